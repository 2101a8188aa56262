//! What stands below the options in the help of a command: examples, and what they rest on.

pub(super) const ALL: &str = "\
Examples:
  overstand                                    open the window
  overstand mine.ron                           open it with a design
  overstand starters                           list the designs to start from
  overstand new quay-house-3 --out mine.ron    start from one of them
  overstand check mine.ron                     say whether it will play
  overstand strings mine.ron                   what the strings pull and take
  overstand risk mine.ron                      how true must I cut
  overstand cuts mine.ron                      say what to cut, step by step
  overstand compare mine.ron other.ron         what differs, and which is better
  overstand dryfit mine.ron --reading …        say what to do about a dry fit
  overstand paper mine.ron --out mine.pdf      draw it at full size, with templates
  overstand keys                               list every dimension
  overstand explain overstand                  say what a word means

Exit status: 0 it plays (thin included), 1 it does not play or does not close,
2 something is wrong with what was asked. `check`, `strings`, `risk`, `cuts`,
`compare`, `dryfit`, `new`, `starters`, `keys`, `explain` and `paper` need no display.";

pub(super) const CHECK: &str = "\
Examples:
  overstand check mine.ron
  overstand check mine.ron --set joint.pitch=2.5deg --find bridge.crest_height
  overstand check mine.ron --set 'scale.length=24 3/4\"' --set bridge.kind=posts
  overstand check mine.ron --hold tail.break_angle --find tail.height
  overstand check mine.ron --variant 'Lower bridge' --json
  overstand check mine.ron --working

Values carry a unit: 23mm, 24.72\", 2.5deg, 2°30′, 1:20 (a rise). A bare number
means millimetres or degrees. `overstand keys` lists the keys.

The order of --set, --hold and --find does not matter. Nothing is written: the
file stays as it is.

Exit status: 0 it plays (thin included), 1 it does not play or does not close,
2 something is wrong with the file or with what was asked.";

pub(super) const STRINGS: &str = "\
Examples:
  overstand strings mine.ron
  overstand strings mine.ron --set wanted.action_bass=2.2mm
  overstand strings mine.ron --set 'strings[1].gauge=0.011\"'
  overstand strings mine.ron --json

The strings' notes, gauges and makes stand in the design file. With --json it
answers as `check` does.

Exit status: 0 it plays (thin included), 1 it does not play or does not close,
2 something is wrong with the file or with what was asked.";

pub(super) const RISK: &str = "\
Examples:
  overstand risk mine.ron
  overstand risk mine.ron --set tolerance.joint.seat_mouth=jig
  overstand risk mine.ron --set 'tolerance.board.thickness=0.05mm normal'
  overstand risk mine.ron --tolerance-of joint.pitch --sure 95
  overstand risk mine.ron --aim joint.pitch
  overstand risk mine.ron --map joint.pitch,joint.overstand --json

What is made misses by its tolerance, the wanted action stays, the filed slots
stay, and the crest height follows. The same seed gives the same answer.

Exit status: 0 the design plays as drawn (thin included), 1 it does not play or
does not close, 2 something is wrong with the file or with what was asked.";

pub(super) const CUTS: &str = "\
Examples:
  overstand cuts mine.ron
  overstand cuts mine.ron --variant 'Lower bridge' --inches
  overstand cuts mine.ron --json
  overstand cuts mine.ron --out cuts.pdf --sheet Letter

Steps that are ticked in the file are marked with x. What is worked out for the
joint stands below the steps; the printed sheet has the steps alone.

Exit status: 0 the design plays (thin included), 1 it does not play or does not
close, 2 something is wrong with the file or with what was asked.";

pub(super) const COMPARE: &str = "\
Examples:
  overstand compare mine.ron other.ron
  overstand compare mine.ron --variants 'As drawn,Lower bridge'
  overstand compare mine.ron --variants 'As drawn,Lower bridge' --paper both.pdf
  overstand compare mine.ron --variants all --sort margin
  overstand compare mine.ron other.ron --json

Of a file with two variants both are compared if none is named; of two files the
active variants. With two files, --variants names one of each.

Exit status: 0 all that are compared play (thin included), 1 one of them does not
play or does not close, 2 something is wrong with a file or with what was asked.";

pub(super) const DRYFIT: &str = "\
Examples:
  overstand dryfit mine.ron --reading crowns@X=250:19.01±0.1 --reading crowns@X=105:12.35
  overstand dryfit mine.ron --reading board@crest:10.2 --reading gauge:board=1.1/body=0
  overstand dryfit mine.ron --reading … --done mouth_off=0.4 --note 'damp' --keep
  overstand dryfit mine.ron --log log.pdf      the last round again, and the log on paper
  overstand dryfit mine.ron --reading … --glued    the set-up, after the glue

A reading is WHAT@PLACE:VALUE±ERROR. The error may be left out, and is then usual.
  crowns, board, neck   straightedge on these; height over the top
  gauge                 angle gauge: gauge:2.6, or gauge@X=120:board=2.6/body=0.1
  shoulder@top, @foot   feeler between shoulder and wall
  aim                   centre line off the body's, positive toward the treble
  roll                  lean of the board across, positive with the treble higher
PLACE: crest (where it is planned), bridge (the scale length), X=250 (from the
joint), u=628 (from the nut); then /near=20 or /far=20 (bass or treble side, from
the centre line) and /edge=30 (read over a straightedge so deep).

Nothing is written but what --keep and --log ask for.

Exit status: 0 the joint as it is plays (thin included), 1 it does not, 2 something
is wrong with the file or with what was asked.";

pub(super) const NEW: &str = "\
Examples:
  overstand new quay-house-3 --out mine.ron
  overstand new quay-house-3 --out - | overstand check -";

pub(super) const PAPER: &str = "\
Examples:
  overstand paper mine.ron --out mine.pdf
  overstand paper mine.ron --out mine.pdf --sheet Letter --landscape
  overstand paper mine.ron --out mine.pdf --sheet roll610 --parts elevation,frets
  overstand paper mine.ron --out mine.pdf --measured 99.4x100.2
  overstand paper mine.ron --out neck.dxf --parts neck --polylines
  overstand paper mine.ron --out neck.svg --parts neck --outline-text
  overstand paper mine.ron --out worked.pdf --parts worked-sheet

Parts: elevation, neck, wedge, pocket, straightedge, frets, head, nut, bridge;
by itself worked-sheet, every step from what is held to the verdict.
Paper: A4 to A0, B2, B1, Letter, Legal, Tabloid, ARCH-A to ARCH-E, a size such as
300x420mm, or a roll such as roll610.

Print at 100 %, without fit to page, and measure the check bars before cutting.";

pub(super) const EXPLAIN: &str = "\
Examples:
  overstand explain                            every word of the trade, by topic
  overstand explain overstand
  overstand explain break angle
  overstand explain strings[1].gauge --json";

pub(super) const COMPLETIONS: &str = "\
Examples:
  overstand completions bash > ~/.local/share/bash-completion/completions/overstand
  overstand completions fish > ~/.config/fish/completions/overstand.fish";

pub(super) const MAN: &str = "\
Examples:
  overstand man check | man -l -
  overstand man --out ~/.local/share/man/man1";
