"""Draws paths and words with general libraries and prints the median time of each, ms.

    python reference.py drawing.json

Words are set in one of the fonts that our writer embeds; it is loaded beforehand.
"""

import io
import json
import statistics
import sys
import time
from pathlib import Path

SHEETS = json.load(open(sys.argv[1]))
ROUNDS = 15


FONT = Path(__file__).resolve().parents[3] / "assets/fonts/DejaVuSansCondensed.ttf"


def with_reportlab():
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    if "Words" not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont("Words", FONT))

    canvas = Canvas(io.BytesIO(), pageCompression=1)
    for sheet in SHEETS:
        canvas.setPageSize(sheet["size"])
        for item in sheet["items"]:
            if "words" in item:
                canvas.setFont("Words", item["size"])
                canvas.drawString(*item["at"], item["words"])
                continue
            path = canvas.beginPath()
            for step in item["path"]:
                if step[0] == "m":
                    path.moveTo(*step[1])
                elif step[0] == "l":
                    path.lineTo(*step[1])
                elif step[0] == "c":
                    path.curveTo(*step[1], *step[2], *step[3])
                else:
                    path.close()
            canvas.drawPath(path, stroke=1, fill=item["fill"])
        canvas.showPage()
    return canvas.getpdfdata()


def with_cairo():
    import cairo

    surface = cairo.PDFSurface(io.BytesIO(), *SHEETS[0]["size"])
    ink = cairo.Context(surface)
    ink.select_font_face("DejaVu Sans Condensed")
    for sheet in SHEETS:
        surface.set_size(*sheet["size"])
        for item in sheet["items"]:
            if "words" in item:
                ink.set_font_size(item["size"])
                ink.move_to(*item["at"])
                ink.show_text(item["words"])
                continue
            for step in item["path"]:
                if step[0] == "m":
                    ink.move_to(*step[1])
                elif step[0] == "l":
                    ink.line_to(*step[1])
                elif step[0] == "c":
                    ink.curve_to(*step[1], *step[2], *step[3])
                else:
                    ink.close_path()
            if item["fill"]:
                ink.fill_preserve()
            ink.stroke()
        surface.show_page()
    surface.finish()


for name, draw in (("reportlab", with_reportlab), ("pycairo", with_cairo)):
    try:
        draw()
    except ImportError:
        continue
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        draw()
        times.append((time.perf_counter() - start) * 1e3)
    print(f"{name} {statistics.median(times):.3f}")
