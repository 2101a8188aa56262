"""Checks sheets of every starter with poppler, qpdf, ezdxf and svgelements.

    python paper.py OVERSTAND FOLDER
"""

import math
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import ezdxf
import ezdxf.path
import svgelements

ROOT = Path(__file__).resolve().parent.parent
PROGRAM, FOLDER = sys.argv[1], Path(sys.argv[2])
MM = 25.4 / 72
SVG = "{http://www.w3.org/2000/svg}"
# poppler writes a thousandth of a point or better, and our numbers have 7 digits
TRUE = 0.005


def run(*command):
    return subprocess.run(
        [str(part) for part in command], check=True, capture_output=True, text=True
    ).stdout


def paper(starter, name, *options):
    out = FOLDER / name
    run(PROGRAM, "paper", starter, "--out", out, "--date", "2026-03-31", "--force", *options)
    return out


def multiply(one, other):
    a, b, c, d, e, f = one
    g, h, i, j, k, l = other
    return (a*g + c*h, b*g + d*h, a*i + c*j, b*i + d*j, a*k + c*l + e, b*k + d*l + f)


def paths(pdf, page):
    """All paths of a page as lists of points (ends of segments), mm, Y down."""
    svg = FOLDER / "page.svg"
    run("pdftocairo", "-svg", "-noshrink", "-nocenter", "-f", page, "-l", page, pdf, svg)
    found = []

    def walk(element, matrix):
        if element.tag in (SVG + "defs", SVG + "clipPath", SVG + "symbol"):
            return
        own = re.match(r"matrix\(([^)]*)\)", element.get("transform", ""))
        if own:
            matrix = multiply(matrix, [float(n) for n in re.split(r"[ ,]+", own[1].strip())])
        if element.tag == SVG + "path":
            a, b, c, d, e, f = matrix
            points = []
            numbers = re.findall(r"[MLCZ]|-?[\d.]+(?:e-?\d+)?", element.get("d"))
            at = 0
            while at < len(numbers):
                kind = numbers[at]
                count = {"M": 2, "L": 2, "C": 6, "Z": 0}[kind]
                values = [float(n) for n in numbers[at + 1 : at + 1 + count]]
                at += 1 + count
                if kind == "M" and points:
                    found.append(points)
                    points = []
                if count:
                    x, y = values[-2:]
                    points.append(((a*x + c*y + e) * MM, (b*x + d*y + f) * MM))
            if points:
                found.append(points)
        for child in element:
            walk(child, matrix)

    walk(ET.parse(svg).getroot(), (1, 0, 0, 1, 0, 0))
    return found


def box(points):
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def check_pdf(pdf, size):
    said = subprocess.run(["qpdf", "--check", str(pdf)], capture_output=True, text=True)
    assert said.returncode == 0 and "WARNING" not in said.stdout + said.stderr, said.stdout
    info = run("pdfinfo", pdf)
    count = int(re.search(r"Pages:\s+(\d+)", info)[1])
    assert re.search(r"Title:\s+\S", info) and "CreationDate:" in info
    # one line a page with six digits
    sizes = re.findall(r"Page\s+\d+ size:\s+([\d.]+) x ([\d.]+)", run("pdfinfo", "-l", count, pdf))
    assert len(sizes) == count
    for width, height in sizes:
        sides = sorted((float(width) * MM, float(height) * MM))
        if size:
            assert all(abs(a - b) < 0.002 for a, b in zip(sides, sorted(size))), sides
    for line in run("pdffonts", pdf).splitlines()[2:]:
        name, *rest = line.split()
        assert re.match(r"[A-Z]{6}\+", name), line
        assert rest[-5:-2] == ["yes", "yes", "yes"], line
    for page in range(1, count + 1):
        text = run("pdftotext", "-f", page, "-l", page, pdf, "-")
        for words in ("Measure the bars before cutting.", "Print at 100 %, no fit to page.",
                      "Never mark frets from joined tiles.", "Wet glue swells paper.",
                      "2026-03-31", f"sheet {page} of {count}"):
            assert words in " ".join(text.split()), (page, words, text)
    return count


def check_bars(pdf, count, factors=(1, 1)):
    for page in range(1, count + 1):
        lines = [p for p in paths(pdf, page) if len(p) == 2]
        for axis, factor in zip((0, 1), factors):
            lengths = [abs(b[axis] - a[axis]) for a, b in lines if abs(b[1 - axis] - a[1 - axis]) < 1e-3]
            for wanted in (100.0, 101.6):
                near = min(lengths, key=lambda length: abs(length - wanted * factor))
                assert abs(near - wanted * factor) < TRUE, (page, axis, wanted, near)


def rings(found):
    """Middles of the register marks' rings, 4 mm wide."""
    middles = []
    for points in found:
        x0, y0, x1, y1 = box(points)
        if len(points) >= 5 and abs(x1 - x0 - 4) < 0.01 and abs(y1 - y0 - 4) < 0.01:
            middles.append(((x0 + x1) / 2, (y0 + y1) / 2))
    return sorted(middles)


def middle(points):
    return sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points)


def check_joined(starter, sheet):
    """Joins the tiles of the elevation by their rings and compares with the roll, where it is in
    one piece."""
    tiles = paper(starter, "tiles.pdf", "--sheet", sheet, "--parts", "elevation", "--portrait")
    count = int(re.search(r"Pages:\s+(\d+)", run("pdfinfo", tiles))[1])
    joined, shift, before = [], (0, 0), None
    for page in range(1, count + 1):
        found = paths(tiles, page)
        marks = rings(found)
        if not marks:
            continue
        if before:
            here, there = middle(marks[:2]), middle(before[-2:])
            shift = (shift[0] + there[0] - here[0], shift[1] + there[1] - here[1])
        before = marks
        joined += [(x + shift[0], y + shift[1]) for points in found for x, y in points]
    roll = paper(starter, "whole.pdf", "--sheet", "roll914", "--parts", "elevation")
    whole = paths(roll, 1)
    # the body and the neck: the largest outlines, their corners
    outlines = [p for p in whole if len(p) > 8 and box(p)[2] - box(p)[0] > 60]
    wanted = [point for points in outlines for point in points]
    # joined and whole differ by a shift alone: find it by the leftmost corner of the neck
    start = min(wanted)
    best = None
    grid = {}
    for x, y in joined:
        grid.setdefault((round(x), round(y)), []).append((x, y))

    def off(point, dx, dy):
        x, y = point[0] + dx, point[1] + dy
        near = [
            math.hypot(x - a, y - b)
            for i in (-1, 0, 1) for j in (-1, 0, 1)
            for a, b in grid.get((round(x) + i, round(y) + j), ())
        ]
        return min(near, default=9)

    far = max(wanted)
    for x, y in joined:
        dx, dy = x - start[0], y - start[1]
        if off(far, dx, dy) < 0.05:
            worst = max(off(point, dx, dy) for point in wanted)
            if best is None or worst < best:
                best = worst
    reach = far[0] - start[0]
    assert best is not None and best < 0.05, (starter, sheet, best)
    return best, reach


def check_dxf(starter):
    for name, options, release in (
        ("a.dxf", (), "AC1015"), ("b.dxf", ("--polylines",), "AC1015"), ("c.dxf", ("--r12",), "AC1009"),
    ):
        drawing = ezdxf.readfile(paper(starter, name, *options))
        audit = drawing.audit()
        assert not audit.errors and not audit.fixes, (starter, name, audit.errors, audit.fixes)
        assert drawing.dxfversion == release
        kinds = {entity.dxftype() for entity in drawing.modelspace()}
        if release == "AC1015":
            assert drawing.units == 4
            assert drawing.header["$MEASUREMENT"] == 1
        if name != "a.dxf":
            assert "SPLINE" not in kinds
        assert {layer.dxf.name for layer in drawing.layers} >= {"CUT", "VISIBLE", "HIDDEN", "CENTRE"}


def check_svg(starter):
    root = ET.parse(paper(starter, "a.svg", "--parts", "neck")).getroot()
    width, height = root.get("width"), root.get("height")
    assert width.endswith("mm") and root.get("viewBox") == f"0 0 {width[:-2]} {height[:-2]}"
    outlined = paper(starter, "b.svg", "--parts", "neck", "--outline-text").read_text()
    assert "<text" not in outlined


def strip_of_pdf(starter):
    """The paths of the fret-position strip, in mm."""
    return paths(paper(starter, "m.pdf", "--sheet", "roll610", "--parts", "frets"), 1)


def strip_of_svg(starter, *options):
    svg = svgelements.SVG.parse(
        paper(starter, "m.svg", "--parts", "frets", *options), ppi=25.4, reify=True
    )
    found = []
    for shape in svg.elements(lambda one: isinstance(one, svgelements.Path)):
        for part in shape.as_subpaths():
            path = svgelements.Path(part)
            found.append([(s.end.x, s.end.y) for s in path if s.end is not None])
    return found


def strip_of_dxf(starter, *options):
    drawing = ezdxf.readfile(paper(starter, "m.dxf", "--parts", "frets", *options))
    found = []
    for entity in drawing.modelspace():
        if entity.dxftype() in ("LINE", "LWPOLYLINE", "POLYLINE", "SPLINE"):
            path = ezdxf.path.make_path(entity)
            found.append([(at.x, at.y) for at in path.flattening(0.001)])
    return found


def check_metre():
    """The strip of frets of an instrument with a scale of 1150 mm in all formats: the frets
    stand where equal temperament has them, nut face and bridge line more than a metre apart."""
    scale, board = 1150.0, 860.0
    text = (ROOT / "assets/starters/slipway-bass.ron").read_text()
    block = lambda name: re.search(rf"\n( *){name}: \(.*?\n\1\)", text, re.S)[0]
    for name, key, value in (("scale", "length", scale), ("board", "end", board)):
        old = block(name)
        new, count = re.subn(rf"(\n *{key}: )[-\d.]+", rf"\g<1>{value}", old, count=1)
        assert count == 1, (name, key)
        text = text.replace(old, new)
    design = FOLDER / "long.ron"
    design.write_text(text)
    frets = int(re.search(r"frets: (\d+)", block("scale"))[1])
    wanted = [scale * (1 - 2 ** (-n / 12)) for n in range(frets + 1)] + [scale]
    worst = 0
    for name, found in (
        ("pdf", strip_of_pdf(design)),
        ("svg", strip_of_svg(design)),
        ("svg outlined", strip_of_svg(design, "--outline-text")),
        ("dxf", strip_of_dxf(design)),
        ("dxf polylines", strip_of_dxf(design, "--polylines")),
        ("dxf r12", strip_of_dxf(design, "--r12")),
    ):
        # the strip's outline is the widest; its left edge is the nut face
        outline = max(
            (points for points in found if len(points) >= 4),
            key=lambda points: box(points)[2] - box(points)[0],
        )
        left, low, _, high = box(outline)
        # every upright line on the strip
        uprights = []
        for points in found:
            for (x0, y0), (x1, y1) in zip(points, points[1:]):
                if abs(x1 - x0) < 0.01 and abs(y1 - y0) > 4 and low - 1 < y0 < high + 1:
                    uprights.append(x0 - left)
        for place in wanted:
            off = min(abs(place - x) for x in uprights)
            assert off < 0.05, (name, place, off)
            worst = max(worst, off)
    print(f"over {scale:.0f} mm PDF, SVG and DXF are off by {worst:.4f} mm at most")


def main():
    starters = sorted((ROOT / "assets/starters").glob("*.ron"))
    done = 0
    for starter in starters:
        for sheet, size in (("A4", (210, 297)), ("Letter", (215.9, 279.4)), ("roll610", None)):
            pdf = paper(starter, "a.pdf", "--sheet", sheet)
            count = check_pdf(pdf, size)
            if starter == starters[0]:
                check_bars(pdf, count)
                corrected = paper(starter, "k.pdf", "--sheet", sheet, "--measured", "99.4x100.2")
                pages = int(re.search(r"Pages:\s+(\d+)", run("pdfinfo", corrected))[1])
                check_bars(corrected, pages, (100 / 99.4, 100 / 100.2))
            done += 1
        check_dxf(starter)
        check_svg(starter)
        done += 4
    for starter in (ROOT / "assets/starters/quay-house-3.ron", ROOT / "assets/starters/slipway-bass.ron"):
        for sheet in ("A4", "Letter"):
            worst, reach = check_joined(starter, sheet)
            print(f"{starter.stem} on {sheet}: joined tiles are off by {worst:.4f} mm at most over {reach:.0f} mm")
            done += 1
    check_metre()
    done += 1
    print(f"{done} passed, 0 failed")


main()
