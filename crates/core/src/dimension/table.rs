//! The table itself.

use super::access::{
    Access, Plain, core_of_string, field, field_if, kind, listed, maybe_listed, target,
};
use super::{Dimension, Key, Part, Role, Usual};
use crate::design::{
    BoardShape, BridgeKind, FloorKind, HeadShape, JointKind, Making, Nut, Tail, Top,
};
use crate::units::Unit;

/// How true a dimension usually comes out, or nothing where it is exact.
macro_rules! usual {
    (exact) => {
        None
    };
    ($making:ident $plus_minus:literal) => {
        Some(Usual { making: Making::$making, plus_minus: $plus_minus })
    };
}

macro_rules! dimensions {
    ($($dim:ident $key:literal $name:literal
        ($unit:ident $low:literal to $high:literal, digits $digits:literal, step $step:literal, tolerance $($tolerance:tt)+)
        $role:ident $access:expr; usual $usual:literal; $meaning:literal)*) => {
        /// Every dimension of a design.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Dim {
            $(#[doc = $meaning] $dim),*
        }

        impl Dim {
            /// All of them, in the order of the table.
            pub const ALL: &'static [Self] = &[$(Self::$dim),*];
        }

        pub(super) static TABLE: [Dimension; Dim::ALL.len()] = [
            $({
                const ACCESS: Access = $access;
                Dimension {
                    dim: Dim::$dim,
                    key: $key,
                    part: Part::of_key($key),
                    name: $name,
                    unit: Unit::$unit,
                    low: $low,
                    high: $high,
                    digits: $digits,
                    step: $step,
                    tolerance: usual!($($tolerance)+),
                    role: Role::$role,
                    usual: $usual,
                    meaning: $meaning,
                    get: ACCESS.0,
                    set: ACCESS.1,
                }
            }),*
        ];
    };
}

dimensions! {
    ScaleLength "scale.length" "Scale length"
        (Length 200.0 to 1200.0, digits 1, step 2.0, tolerance Jig 0.1)
        Closing field!(scale.length); usual "";
        "Nut face to the theoretical bridge line, before compensation."
    Frets "scale.frets" "Frets"
        (Count 0.0 to 36.0, digits 0, step 1.0, tolerance exact)
        Given field!(scale.frets); usual "";
        "Number of frets; 0 for a fretless board. Frets stand square to the centre line: slanted ones are not served."

    JointFret "joint.fret" "Joint at fret"
        (Count 3.0 to 36.0, digits 0, step 1.0, tolerance exact)
        Given field!(joint.fret); usual "";
        "The fret above the line where neck and body meet."
    JointOffset "joint.offset" "Joint beyond fret"
        (Length -40.0 to 40.0, digits 1, step 1.0, tolerance Hand 0.3)
        Closing field!(joint.offset); usual "";
        "How far the joint lies beyond that fret, positive toward the bridge."
    Overstand "joint.overstand" "Overstand"
        (Length -20.0 to 40.0, digits 1, step 1.0, tolerance Hand 0.2)
        Closing field!(joint.overstand); usual "";
        "Height of the board's underside above the top datum at the joint."
    Pitch "joint.pitch" "Pitch"
        (Angle -8.0 to 12.0, digits 2, step 0.25, tolerance Hand 0.15)
        Closing field!(joint.pitch); usual "flat body with low bridge −0.5 to 1°; posts 1.5–4°; arched 3–5°; flat-top acoustic 0.5–2°; nylon about −1 to 0.5°";
        "Angle between the unstrung, straight board and the top datum, positive when the board rises toward the bridge."
    TenonLength "joint.tenon_length" "Tenon length"
        (Length 5.0 to 400.0, digits 1, step 2.0, tolerance Hand 0.3)
        Closing field!(joint.tenon_length); usual "";
        "Length of the tenon or heel inside the body, along the datum."
    TenonWidth "joint.tenon_width" "Tenon width"
        (Length 10.0 to 120.0, digits 1, step 1.0, tolerance Hand 0.1)
        Closing field!(joint.tenon_width); usual "";
        "Width of the tenon at the pocket's mouth, from cheek to cheek."
    Flank "joint.flank" "Dovetail flank"
        (Angle 0.5 to 30.0, digits 1, step 1.0, tolerance Hand 0.2)
        Given kind!(x in joint.kind: JointKind::Dovetail { flank: x }); usual "5–12°";
        "Angle of each cheek of a dovetail against the centre line, seen from above: it widens toward its inner end."
    PocketDepth "joint.pocket_depth" "Pocket depth"
        (Length 2.0 to 120.0, digits 1, step 1.0, tolerance Hand 0.2)
        Closing field!(joint.pocket_depth); usual "8 mm of wood or more left under it";
        "Depth of the pocket at its mouth, below the top datum."
    Floor "joint.floor" "Pocket floor"
        (Angle -8.0 to 12.0, digits 2, step 0.25, tolerance Hand 0.15)
        Closing field_if!(FloorKind::Free = joint.floor_kind; joint.floor); usual "0° parallel to the top, or the pitch";
        "Slope of the pocket's floor against the top datum, positive when it rises toward its inner end. A floor parallel to the board takes the pitch."
    Shoulder "joint.shoulder" "Shoulder"
        (Length 5.0 to 200.0, digits 1, step 1.0, tolerance Hand 0.3)
        Closing field!(joint.shoulder); usual "";
        "Length of the shoulder down the end wall, from the board's underside."
    WallRake "joint.wall_rake" "End wall rake"
        (Angle -15.0 to 15.0, digits 2, step 0.25, tolerance Hand 0.2)
        Given field!(joint.wall_rake); usual "0, square to the top datum";
        "Rake of the body's end wall from square to the datum, positive when its foot reaches farther toward the head than its top."
    GlueRoom "joint.glue_room" "Glue room"
        (Length 0.0 to 1.0, digits 2, step 0.05, tolerance Hand 0.03)
        Closing field!(joint.glue_room); usual "0.05–0.15 mm a side";
        "Room for a film of glue between each cheek and the pocket's side."
    RoughCheeks "joint.rough_cheeks" "Rough cheeks proud"
        (Length 0.0 to 12.0, digits 1, step 0.5, tolerance Hand 0.5)
        Given field!(joint.rough_cheeks); usual "2–5 mm in all";
        "What is left on both cheeks together when they are roughed."
    SpareLength "joint.spare_length" "Spare length"
        (Length 0.0 to 30.0, digits 1, step 1.0, tolerance Hand 0.5)
        Given field!(joint.spare_length); usual "5–12 mm";
        "How much longer than the tenon the pocket is left: every recut of the shoulder uses some of it."
    WedgeLength "joint.wedge_length" "Wedge length"
        (Length 0.0 to 200.0, digits 1, step 2.0, tolerance Hand 0.5)
        Given field!(joint.wedge_length); usual "0, none";
        "Length of a wedge between board and top under the board's end; 0 for none."
    WedgeHeight "joint.wedge_height" "Wedge height"
        (Length 0.0 to 60.0, digits 1, step 0.5, tolerance Hand 0.1)
        Closing field!(joint.wedge_height); usual "";
        "Height of that wedge at the board's end."
    CutterDiameter "joint.cutter_diameter" "Cutter diameter"
        (Length 2.0 to 60.0, digits 1, step 1.0, tolerance Bought 0.05)
        Given field!(joint.cutter_diameter); usual "";
        "Diameter of the cutter that clears the pocket: half of it rounds the inner corners and the tenon's inner end."
    CutterReach "joint.cutter_reach" "Cutter reach"
        (Length 3.0 to 150.0, digits 1, step 1.0, tolerance Bought 0.5)
        Given field!(joint.cutter_reach); usual "";
        "How deep the cutter reaches below the top datum."
    JigBase "joint.jig_base" "Jig base"
        (Length 20.0 to 1000.0, digits 1, step 10.0, tolerance Jig 0.2)
        Given field!(joint.jig_base); usual "";
        "Length of the base under which a jig's wedge lies, and of the bar over which a stack is made."
    ScrewCount "joint.screw_count" "Screws"
        (Count 1.0 to 8.0, digits 0, step 1.0, tolerance exact)
        Given field_if!(JointKind::Screwed = joint.kind; joint.screw_count); usual "4";
        "Number of screws of a screwed neck."
    ScrewStation "joint.screw_station" "Screw station"
        (Length 3.0 to 390.0, digits 1, step 1.0, tolerance Hand 0.5)
        Given field_if!(JointKind::Screwed = joint.kind; joint.screw_station); usual "";
        "Distance of the middle of the screws from the joint, along the datum."
    ScrewDiameter "joint.screw_diameter" "Screw diameter"
        (Length 2.0 to 12.0, digits 1, step 0.5, tolerance Bought 0.1)
        Given field_if!(JointKind::Screwed = joint.kind; joint.screw_diameter); usual "";
        "Diameter of a screw over its thread."
    ScrewLength "joint.screw_length" "Screw length"
        (Length 8.0 to 150.0, digits 1, step 1.0, tolerance Bought 0.5)
        Given field_if!(JointKind::Screwed = joint.kind; joint.screw_length); usual "";
        "Length of a screw under its head, which lies against the back."
    HeelThickness "joint.heel_thickness" "Heel thickness"
        (Length 2.0 to 160.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("joint.heel_thickness"); usual "";
        "Thickness of the tenon or heel from the board's underside, square to the board at the shoulder's top."
    TenonInner "joint.tenon_inner" "Tenon at inner end"
        (Length 0.0 to 160.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("joint.tenon_inner"); usual "";
        "Thickness of the tenon from the board's underside, square to the board at the top of the butt."
    DepthMouth "joint.depth_mouth" "Tenon depth at mouth"
        (Length 0.0 to 160.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("joint.depth_mouth"); usual "";
        "Depth of the tenon below the board's underside at the mouth, square to the datum."
    DepthInner "joint.depth_inner" "Tenon depth at inner end"
        (Length 0.0 to 160.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("joint.depth_inner"); usual "";
        "Depth of the tenon below the board's underside at its inner end, square to the datum."
    BottomAngle "joint.bottom_angle" "Tenon bottom to board"
        (Angle -20.0 to 20.0, digits 2, step 0.25, tolerance exact)
        Outcome target!("joint.bottom_angle"); usual "0, parallel to the board";
        "Angle of the tenon's bottom against the board's underside, positive when the tenon gets deeper toward its inner end."
    FloorToBack "joint.floor_to_back" "Floor to back"
        (Angle -20.0 to 20.0, digits 2, step 0.25, tolerance exact)
        Outcome target!("joint.floor_to_back"); usual "";
        "Angle of the pocket's floor when it is cut with the body lying on its back."
    DeepestCut "joint.deepest_cut" "Deepest cut"
        (Length 0.0 to 160.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("joint.deepest_cut"); usual "no more than the cutter reaches";
        "Depth of the pocket below the datum where it is deepest, spare length included."
    PocketWidth "joint.pocket_width" "Pocket width"
        (Length 5.0 to 130.0, digits 2, step 1.0, tolerance exact)
        Outcome target!("joint.pocket_width"); usual "";
        "Width of the pocket at its mouth: the tenon and the glue room on both sides."
    PitchWedge "joint.pitch_wedge" "Wedge for pitch"
        (Length -200.0 to 250.0, digits 2, step 0.5, tolerance exact)
        Outcome target!("joint.pitch_wedge"); usual "";
        "Rise of a wedge over the jig's base that sets the pitch; positive when it is thick toward the bridge, negative toward the nut."
    PitchStack "joint.pitch_stack" "Stack for pitch"
        (Length -200.0 to 250.0, digits 2, step 0.5, tolerance exact)
        Outcome target!("joint.pitch_stack"); usual "";
        "Height of the stack under one end of a bar as long as the jig's base that sets the pitch."
    WoodUnder "joint.wood_under" "Wood under pocket"
        (Length -100.0 to 240.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("joint.wood_under"); usual "8 mm or more";
        "Least wood between the pocket's floor and the back, spare length included, square to the datum."
    ShoulderBears "joint.shoulder_bears" "Shoulder bears"
        (Length -40.0 to 220.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("joint.shoulder_bears"); usual "";
        "Length of the shoulder that bears on the end wall, below the top datum."
    WedgeGap "joint.wedge_gap" "Gap over wedge"
        (Length -60.0 to 150.0, digits 1, step 0.5, tolerance exact)
        Outcome target!("joint.wedge_gap"); usual "0";
        "Height of the board's underside over a wedge at the board's end; negative when the wedge is too high."
    BoardEndGap "joint.board_end_gap" "Gap under board end"
        (Length -60.0 to 150.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("joint.board_end_gap"); usual "";
        "Height of the board's underside over the top at the board's end."

    ActionBass "wanted.action_bass" "Action, bass"
        (Length 0.2 to 12.0, digits 2, step 0.25, tolerance exact)
        Closing field!(wanted.action_bass); usual "electric 1.6–2.4; flat-top steel 2.2–3.0; nylon 3.5–4.5; bass 2.0–3.2; arched acoustic 1.8–2.6; mandolin size 1.5–2.0 mm";
        "Clear height of the lowest open string over the crown of the action fret."
    ActionTreble "wanted.action_treble" "Action, treble"
        (Length 0.2 to 12.0, digits 2, step 0.25, tolerance exact)
        Closing field!(wanted.action_treble); usual "electric 1.2–2.0; flat-top steel 1.6–2.4; nylon 2.8–3.5; bass 1.6–2.6; arched acoustic 1.4–2.0; mandolin size 1.2–1.6 mm";
        "Clear height of the open treble string over the crown of the action fret."
    ActionFret "wanted.action_fret" "Action read at fret"
        (Count 2.0 to 36.0, digits 0, step 1.0, tolerance exact)
        Given field!(wanted.action_fret); usual "12";
        "The fret over which action is read."
    FirstFretBass "wanted.first_fret_bass" "Clear at fret 1, bass"
        (Length 0.02 to 3.0, digits 2, step 0.1, tolerance Hand 0.05)
        Closing field!(wanted.first_fret_bass); usual "0.3–0.6 mm";
        "Clear height of the lowest open string over fret 1."
    FirstFretTreble "wanted.first_fret_treble" "Clear at fret 1, treble"
        (Length 0.02 to 3.0, digits 2, step 0.1, tolerance Hand 0.05)
        Closing field!(wanted.first_fret_treble); usual "0.3–0.6 mm";
        "Clear height of the open treble string over fret 1."
    Relief "wanted.relief" "Relief"
        (Length -0.5 to 2.0, digits 2, step 0.1, tolerance Hand 0.05)
        Closing field!(wanted.relief); usual "0.10–0.35 mm";
        "Deepest gap under a straightedge on the crowns of two frets of the strung neck, on the centre line. The neck is taken to bend evenly up to the joint."
    ReliefFrom "wanted.relief_from" "Relief from fret"
        (Count 1.0 to 35.0, digits 0, step 1.0, tolerance exact)
        Given field!(wanted.relief_from); usual "1";
        "First fret of the straightedge that relief is read under."
    ReliefTo "wanted.relief_to" "Relief to fret"
        (Count 0.0 to 36.0, digits 0, step 1.0, tolerance exact)
        Given field!(wanted.relief_to); usual "0, the joint fret";
        "Last fret of the straightedge that relief is read under; 0 for the joint fret."

    PluckPlace "wanted.pluck_place" "Plucked at"
        (Length 10.0 to 400.0, digits 0, step 5.0, tolerance exact)
        Given field!(wanted.pluck_place); usual "a sixth of the scale length";
        "Where the strings are plucked, from the saddle."
    PluckTravel "wanted.pluck_travel" "Played how hard"
        (Length 0.05 to 5.0, digits 2, step 0.1, tolerance exact)
        Given field!(wanted.pluck_travel); usual "0.4 mm light, 0.8 mm firm";
        "How far a string shall move at the place where it is plucked, either way, without touching a fret."

    BoardThickness "board.thickness" "Board thickness"
        (Length 1.0 to 25.0, digits 1, step 0.5, tolerance Hand 0.1)
        Closing field!(board.thickness); usual "5–7 mm";
        "Underside to surface on the centre line, before frets."
    Crown "board.crown" "Crown"
        (Length 0.0 to 3.0, digits 2, step 0.1, tolerance Bought 0.03)
        Closing field!(board.crown); usual "0.9–1.5 mm";
        "Height of the frets' crowns over the board; 0 on a fretless board."
    RadiusNut "board.radius_nut" "Radius, nut"
        (Length 60.0 to 5000.0, digits 0, step 25.0, tolerance Hand 5.0)
        Given kind!(x in board.shape: BoardShape::Compound { radius_nut: x, .. } | BoardShape::Fixed { radius: x }); usual "";
        "Radius of the board's surface across the strings at the nut; all along a board of fixed radius."
    RadiusEnd "board.radius_end" "Radius, end"
        (Length 60.0 to 5000.0, digits 0, step 25.0, tolerance Hand 5.0)
        Given kind!(x in board.shape: BoardShape::Compound { radius_end: x, .. }); usual "";
        "Radius of the board's surface across the strings at the board's end."
    FallFrom "board.fall_from" "Fall-away from fret"
        (Count 0.0 to 35.0, digits 0, step 1.0, tolerance exact)
        Given field!(board.fall_from); usual "0, none";
        "The fret beyond which the board's surface is planed to fall away; 0 for none."
    Fall "board.fall" "Fall-away"
        (Length 0.0 to 3.0, digits 2, step 0.1, tolerance Hand 0.05)
        Closing field!(board.fall); usual "";
        "Drop of the board's surface at the last fret."
    BoardEnd "board.end" "Board end"
        (Length 100.0 to 1100.0, digits 1, step 2.0, tolerance Hand 0.3)
        Closing field!(board.end); usual "";
        "Nut face to the end of the board, past the last fret."

    ZeroFretHeight "nut.zero_fret" "Zero fret"
        (Length 0.3 to 4.0, digits 2, step 0.1, tolerance Hand 0.03)
        Closing kind!(x in nut: Nut::ZeroFret { height: x }); usual "a little over the crown";
        "Height of the zero fret's crown over the board."

    CrestHeight "bridge.crest_height" "Crest height"
        (Length 0.5 to 150.0, digits 1, step 1.0, tolerance Hand 0.1)
        Closing field!(bridge.crest_height); usual "";
        "Height of the point on which the middle string rests, over the body's top there."
    CrestLow "bridge.crest_low" "Saddle lowest"
        (Length 0.5 to 150.0, digits 1, step 1.0, tolerance Bought 0.1)
        Given kind!(x in bridge.kind: BridgeKind::Plate { crest_low: x, .. } | BridgeKind::Posts { crest_low: x, .. } | BridgeKind::Wrapped { crest_low: x, .. } | BridgeKind::Floating { crest_low: x, .. }); usual "";
        "Crest height with the bridge or saddle at its lowest."
    CrestHigh "bridge.crest_high" "Saddle highest"
        (Length 0.5 to 150.0, digits 1, step 1.0, tolerance Bought 0.1)
        Given kind!(x in bridge.kind: BridgeKind::Plate { crest_high: x, .. } | BridgeKind::Posts { crest_high: x, .. } | BridgeKind::Wrapped { crest_high: x, .. } | BridgeKind::Floating { crest_high: x, .. }); usual "";
        "Crest height with the bridge or saddle at its highest."
    BridgeThickness "bridge.thickness" "Bridge thickness"
        (Length 2.0 to 40.0, digits 1, step 0.5, tolerance Hand 0.1)
        Given kind!(x in bridge.kind: BridgeKind::Glued { thickness: x, .. }); usual "";
        "Thickness of a glued bridge."
    SaddleLow "bridge.saddle_low" "Saddle showing, least"
        (Length 0.0 to 20.0, digits 1, step 0.5, tolerance Bought 0.1)
        Given kind!(x in bridge.kind: BridgeKind::Glued { saddle_low: x, .. }); usual "";
        "Least of the saddle that shall show above a glued bridge."
    SaddleHigh "bridge.saddle_high" "Saddle showing, most"
        (Length 0.5 to 25.0, digits 1, step 0.5, tolerance Bought 0.1)
        Given kind!(x in bridge.kind: BridgeKind::Glued { saddle_high: x, .. }); usual "";
        "Most of the saddle that may show above a glued bridge."
    Station "bridge.station" "Bridge station"
        (Length 20.0 to 1000.0, digits 1, step 5.0, tolerance Hand 0.3)
        Closing field!(bridge.station); usual "";
        "Distance of the middle crest from the joint, along the datum."
    Compensation "bridge.compensation" "Compensation"
        (Length -10.0 to 25.0, digits 1, step 1.0, tolerance Hand 0.2)
        Closing field!(bridge.compensation); usual "";
        "How far the middle crest lies beyond the scale length."
    Travel "bridge.travel" "Saddle travel, fore and aft"
        (Length 0.0 to 60.0, digits 1, step 1.0, tolerance Bought 0.1)
        Given field!(bridge.travel); usual "";
        "How far each saddle can be moved along its string in all, half of it either way; 0 for a fixed one."
    BridgeBase "bridge.base" "Bridge base"
        (Length 1.0 to 150.0, digits 1, step 1.0, tolerance Bought 0.1)
        Given field!(bridge.base); usual "";
        "Length of the bridge along the strings, with the crest over its middle."
    EdgeHeight "bridge.edge_height" "Bridge rear edge"
        (Length 0.0 to 150.0, digits 1, step 1.0, tolerance Bought 0.1)
        Given field!(bridge.edge_height); usual "";
        "Height of the bridge's rear edge over the top: the string must pass over it."
    CrestRadius "bridge.crest_radius" "Crest radius"
        (Length 60.0 to 5000.0, digits 0, step 25.0, tolerance Bought 5.0)
        Given kind!(x in bridge.kind: BridgeKind::Posts { crest_radius: x, .. } | BridgeKind::Wrapped { crest_radius: x, .. } | BridgeKind::Floating { crest_radius: x, .. }); usual "";
        "Radius of a shared crest across the strings."
    PostSpread "bridge.post_spread" "Post spread"
        (Length 10.0 to 250.0, digits 1, step 1.0, tolerance Bought 0.2)
        Given kind!(x in bridge.kind: BridgeKind::Posts { post_spread: x, .. } | BridgeKind::Wrapped { post_spread: x, .. } | BridgeKind::Floating { post_spread: x, .. }); usual "";
        "Distance between the two posts or adjusters of a shared crest."

    TailBehind "tail.behind" "Anchor behind crest"
        (Length 1.0 to 400.0, digits 1, step 5.0, tolerance Hand 0.5)
        Closing kind!(x in tail: Tail::AtBridge { behind: x, .. } | Tail::Through { behind: x }); usual "";
        "Crest to the place where the strings end, along the datum."
    TailStation "tail.station" "Tail station"
        (Length 30.0 to 1200.0, digits 1, step 5.0, tolerance Hand 0.5)
        Closing kind!(x in tail: Tail::Stop { station: x, .. } | Tail::Hung { station: x, .. }); usual "";
        "Distance of the tail's edge from the joint, along the datum."
    TailHeight "tail.height" "Tail height"
        (Length -20.0 to 150.0, digits 1, step 1.0, tolerance Hand 0.2)
        Closing kind!(x in tail: Tail::Stop { height: x, .. } | Tail::Hung { height: x, .. } | Tail::AtBridge { height: x, .. }); usual "";
        "Height of the point where the strings bend into the tail, over the top there."
    TailLow "tail.low" "Tail lowest"
        (Length -20.0 to 150.0, digits 1, step 1.0, tolerance Bought 0.2)
        Given kind!(x in tail: Tail::Stop { low: x, .. }); usual "";
        "Lowest that a stop tail can stand."
    TailHigh "tail.high" "Tail highest"
        (Length -20.0 to 150.0, digits 1, step 1.0, tolerance Bought 0.2)
        Given kind!(x in tail: Tail::Stop { high: x, .. }); usual "";
        "Highest that a stop tail can stand."
    SaddleBreak "tail.break_angle" "Saddle break angle"
        (Angle -20.0 to 90.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("tail.break_angle"); usual "5–30°";
        "How much the middle string bends over the saddle."

    BodyLength "body.length" "Body length"
        (Length 100.0 to 1200.0, digits 1, step 5.0, tolerance Hand 0.5)
        Given field!(body.length); usual "";
        "Joint to the tail end, along the datum."
    BodyThickness "body.thickness" "Body thickness"
        (Length 10.0 to 250.0, digits 1, step 1.0, tolerance Hand 0.2)
        Closing field!(body.thickness); usual "";
        "Depth of the body at the joint, from the top datum to the back."
    BodyTaper "body.taper" "Body taper"
        (Angle -8.0 to 8.0, digits 2, step 0.25, tolerance Hand 0.1)
        Closing field!(body.taper); usual "";
        "Slope of the back against the datum, positive when the body gets deeper toward the tail."
    RampAngle "body.ramp_angle" "Ramp angle"
        (Angle -8.0 to 12.0, digits 2, step 0.25, tolerance Hand 0.1)
        Closing kind!(x in body.top: Top::Ramp { angle: x, .. }); usual "";
        "Slope of the ramp under the board, positive when it rises toward the bridge."
    RampLength "body.ramp_length" "Ramp length"
        (Length 5.0 to 500.0, digits 1, step 2.0, tolerance Hand 0.5)
        Closing kind!(x in body.top: Top::Ramp { length: x, .. }); usual "";
        "How far the ramp under the board reaches from the joint."
    DomeRadius "body.dome_radius" "Dome radius"
        (Length 800.0 to 20000.0, digits 0, step 500.0, tolerance Hand 100.0)
        Closing kind!(x in body.top: Top::Dome { radius: x, .. }); usual "";
        "Radius of a domed top."
    DomeApex "body.dome_apex" "Dome apex"
        (Length -300.0 to 700.0, digits 1, step 5.0, tolerance Hand 2.0)
        Closing kind!(x in body.top: Top::Dome { apex: x, .. }); usual "";
        "Distance of a domed top's highest point from the joint."
    PitchLost "body.pitch_lost" "Pitch lost under strings"
        (Angle -1.0 to 3.0, digits 2, step 0.1, tolerance Hand 0.05)
        Closing field!(body.pitch_lost); usual "0 until measured";
        "How much the neck comes forward when the strings pull."
    TopRise "body.top_rise" "Top rise under strings"
        (Length -5.0 to 10.0, digits 1, step 0.5, tolerance Hand 0.2)
        Closing field!(body.top_rise); usual "0 until measured";
        "How much the top rises at the bridge when the strings pull."

    NeckDepthFirst "neck.depth_first" "Neck depth, fret 1"
        (Length 8.0 to 60.0, digits 1, step 0.5, tolerance Hand 0.2)
        Given field!(neck.depth_first); usual "";
        "Board surface to the back of the neck at fret 1."
    NeckDepthHeel "neck.depth_heel" "Neck depth, heel"
        (Length 8.0 to 80.0, digits 1, step 0.5, tolerance Hand 0.2)
        Given field!(neck.depth_heel); usual "";
        "Board surface to the back of the neck where the heel begins."
    HeelLength "neck.heel_length" "Heel length"
        (Length 1.0 to 200.0, digits 1, step 1.0, tolerance Hand 0.5)
        Given field!(neck.heel_length); usual "";
        "How far before the joint the heel begins, along the board."

    NeckWidthNut "neck.width_nut" "Neck width, nut"
        (Length 15.0 to 120.0, digits 1, step 0.5, tolerance Hand 0.2)
        Given field!(neck.width_nut); usual "";
        "Width of the neck at the nut."
    NeckWidthHeel "neck.width_heel" "Neck width, joint"
        (Length 15.0 to 150.0, digits 1, step 0.5, tolerance Hand 0.2)
        Given field!(neck.width_heel); usual "";
        "Width of the neck at the joint."
    BlankThickness "neck.blank_thickness" "Blank at hand, thickness"
        (Length 0.0 to 200.0, digits 1, step 1.0, tolerance Hand 0.2)
        Given field!(neck.blank_thickness); usual "";
        "Thickness of the neck blank at hand; 0 when there is none yet."
    BlankLength "neck.blank_length" "Blank at hand, length"
        (Length 0.0 to 2000.0, digits 0, step 5.0, tolerance Hand 1.0)
        Given field!(neck.blank_length); usual "";
        "Length of the neck blank at hand; 0 when there is none yet."
    BlankForHead "neck.blank_for_head" "Blank needed for headstock"
        (Length 0.0 to 300.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("neck.blank_for_head"); usual "";
        "Thickness that the blank needs for the headstock, square to the board; with a scarf joint the headstock's own."
    BlankForHeel "neck.blank_for_heel" "Blank needed for heel"
        (Length 0.0 to 300.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("neck.blank_for_heel"); usual "";
        "Thickness that blank and heel block together need for shoulder and tenon, square to the board."
    BlankLengthNeeded "neck.blank_length_needed" "Blank length needed"
        (Length 0.0 to 2500.0, digits 0, step 5.0, tolerance exact)
        Outcome target!("neck.blank_length_needed"); usual "";
        "Length of wood along the board from the headstock's tip to the tenon's end; of a scarf joint, its finished length."
    RodDepth "neck.rod_depth" "Rod channel depth"
        (Length 0.0 to 30.0, digits 1, step 0.5, tolerance Hand 0.1)
        Given field!(neck.rod_depth); usual "";
        "Depth of the rod's channel below the neck's glue face; 0 for no rod."
    RodWidth "neck.rod_width" "Rod channel width"
        (Length 2.0 to 30.0, digits 1, step 0.5, tolerance Hand 0.1)
        Given field!(neck.rod_width); usual "";
        "Width of the rod's channel."
    RodStart "neck.rod_start" "Rod channel start"
        (Length -60.0 to 400.0, digits 1, step 1.0, tolerance Hand 0.5)
        Given field!(neck.rod_start); usual "";
        "Nut face to where the rod's channel starts, negative when it starts in the headstock."
    RodEnd "neck.rod_end" "Rod channel end"
        (Length 20.0 to 1000.0, digits 1, step 1.0, tolerance Hand 0.5)
        Given field!(neck.rod_end); usual "";
        "Nut face to where the rod's channel ends."

    HeadAngle "head.angle" "Headstock angle"
        (Angle 0.0 to 30.0, digits 1, step 1.0, tolerance Hand 0.3)
        Closing kind!(x in head.shape: HeadShape::Tilted { angle: x }); usual "";
        "Angle between headstock face and board."
    HeadStart "head.start" "Headstock starts behind nut"
        (Length 0.0 to 60.0, digits 1, step 1.0, tolerance Hand 0.2)
        Closing field!(head.start); usual "";
        "Nut face to the start of the headstock's face."
    HeadDrop "head.drop" "Headstock drop"
        (Length -5.0 to 40.0, digits 1, step 1.0, tolerance Hand 0.2)
        Closing field!(head.drop); usual "";
        "How far the headstock's face starts below the board surface."
    HeadLength "head.length" "Headstock length"
        (Length 30.0 to 450.0, digits 1, step 5.0, tolerance Hand 0.5)
        Closing field!(head.length); usual "";
        "Length of the headstock's face, start to tip."
    HeadThickness "head.thickness" "Headstock thickness"
        (Length 4.0 to 50.0, digits 1, step 0.5, tolerance Hand 0.2)
        Closing field!(head.thickness); usual "";
        "Thickness of the headstock, square to its face."
    NutBreak "head.break_angle" "Nut break angle"
        (Angle -20.0 to 60.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("head.break_angle"); usual "5–15°";
        "How much the middle string bends over the nut, toward the mean of the posts."
    BenchGap "head.bench_gap" "Headstock over bench"
        (Length -250.0 to 250.0, digits 1, step 2.0, tolerance exact)
        Outcome target!("head.bench_gap"); usual "";
        "Height of the headstock's lowest point over a bench on which the back lies; negative when it hangs below."

    ReadNeck "straightedge.neck_face" "Reads on neck face"
        (Length -50.0 to 200.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("straightedge.neck_face"); usual "";
        "Height over the top at the crest that a straightedge on the bare neck face must read, neck unstrung and straight."
    ReadBoard "straightedge.board" "Reads on board"
        (Length -50.0 to 200.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("straightedge.board"); usual "";
        "Height over the top at the crest that a straightedge on the board must read, neck unstrung and straight."
    ReadCrowns "straightedge.crowns" "Reads on crowns"
        (Length -50.0 to 200.0, digits 1, step 1.0, tolerance exact)
        Outcome target!("straightedge.crowns"); usual "";
        "Height over the top at the crest that a straightedge on the crowns must read, neck unstrung and straight."

    NutPlace "strings[].nut_place" "Place at nut"
        (Length -80.0 to 80.0, digits 2, step 0.5, tolerance Hand 0.2)
        Given listed!(strings.nut_place); usual "";
        "Distance of the string from the centre line at the nut, positive on the treble side."
    CrestPlace "strings[].crest_place" "Place at crest"
        (Length -120.0 to 120.0, digits 2, step 0.5, tolerance Hand 0.2)
        Given listed!(strings.crest_place); usual "";
        "Distance of the string from the centre line at the bridge line, positive on the treble side."
    CrestOffset "strings[].crest_offset" "Crest offset"
        (Length -20.0 to 20.0, digits 1, step 0.5, tolerance Hand 0.2)
        Given listed!(strings.crest_offset); usual "";
        "How far the string's crest lies beyond the middle crest, positive toward the tail."
    PostAlong "strings[].post" "Post along headstock"
        (Length 3.0 to 440.0, digits 1, step 1.0, tolerance Hand 0.3)
        Given listed!(strings.post); usual "";
        "Distance of the string's post from the start of the headstock's face."
    PostHeight "strings[].post_height" "String height at post"
        (Length -20.0 to 40.0, digits 1, step 0.5, tolerance Hand 0.5)
        Given listed!(strings.post_height); usual "";
        "Height of the string over the headstock's face where it meets the post."
    Gauge "strings[].gauge" "Gauge"
        (Length 0.1 to 5.0, digits 3, step 0.05, tolerance Bought 0.005)
        Given maybe_listed!(strings.gauge); usual "";
        "Outer diameter of the string."
    Core "strings[].core" "Core"
        (Length 0.1 to 3.0, digits 3, step 0.02, tolerance Bought 0.005)
        Given core_of_string(); usual "";
        "Diameter of a wound string's core; of a hexagonal one across its flats."

    PickupStation "pickups[].station" "Pickup station"
        (Length -600.0 to 900.0, digits 1, step 1.0, tolerance Hand 0.5)
        Given listed!(pickups.station); usual "";
        "Distance of the pickup's middle from the joint, along the datum; negative before the joint."
    PickupHeight "pickups[].height" "Pickup height"
        (Length -20.0 to 100.0, digits 1, step 0.5, tolerance Hand 0.3)
        Given listed!(pickups.height); usual "1.5–3 mm under the string held at the last fret";
        "Height of the pickup's face over the top there."

    CavityFrom "cavities[].from" "Cavity from"
        (Length -100.0 to 1100.0, digits 1, step 1.0, tolerance Hand 0.3)
        Given listed!(cavities.from); usual "";
        "Distance of the cavity's nearer end from the joint, along the datum."
    CavityTo "cavities[].to" "Cavity to"
        (Length -100.0 to 1200.0, digits 1, step 1.0, tolerance Hand 0.3)
        Given listed!(cavities.to); usual "";
        "Distance of the cavity's farther end from the joint, along the datum."
    CavityDepth "cavities[].depth" "Cavity depth"
        (Length 1.0 to 150.0, digits 1, step 1.0, tolerance Hand 0.3)
        Given listed!(cavities.depth); usual "";
        "Depth of the cavity's bottom below the top datum."
}

impl Dim {
    /// Its entry in the table.
    pub fn info(self) -> &'static Dimension {
        &TABLE[self as usize]
    }

    /// The key of one that each design has once.
    pub const fn key(self) -> Key {
        Key { dim: self, index: 0 }
    }
}
