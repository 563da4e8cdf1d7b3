"""Make ``convert/writers/html/dots.css``, which holds the font of the drawn dots: 64 cells.

    python tests/make_dots_font.py      (needs the package fonttools, which nothing else does)

A raised dot is a filled disc, an empty place a thin ring, so that a sighted beginner sees which of
the six places are raised; the empty cell is left white.  Units of
1,000 to the em; dots of a cell stand 2.5 apart where cells stand 6 (common practice, no source).
"""

from __future__ import annotations

from base64 import b64encode
from io import BytesIO
from math import cos, pi, sin
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

PLACES = {1: (140, 700), 2: (140, 440), 3: (140, 180), 4: (400, 700), 5: (400, 440), 6: (400, 180)}
WIDTH, DISC, RING, LINE = 620, 105, 62, 16


def circle(pen: TTGlyphPen, radius: float, clockwise: bool) -> None:
    """Eight quadratic arcs round the origin."""
    turn = -1 if clockwise else 1
    out = radius / cos(pi / 8)
    points = []
    for at in range(8):
        angle = turn * at * pi / 4
        points.append((round(radius * cos(angle)), round(radius * sin(angle))))
        angle += turn * pi / 8
        points.append((round(out * cos(angle)), round(out * sin(angle))))
    pen.moveTo(points[0])
    for at in range(1, 16, 2):
        pen.qCurveTo(points[at], points[(at + 1) % 16])
    pen.closePath()


def main() -> None:
    glyphs = {}
    for name, rings in (("disc", [(DISC, True)]), ("ring", [(RING, True), (RING - LINE, False)])):
        pen = TTGlyphPen(None)
        for radius, clockwise in rings:
            circle(pen, radius, clockwise)
        glyphs[name] = pen.glyph()
    glyphs[".notdef"] = TTGlyphPen(None).glyph()
    names = {0x2800 + dots: f"d{dots}" for dots in range(64)}
    for code, name in names.items():
        pen = TTGlyphPen(glyphs)
        for dot, (x, y) in PLACES.items() if code > 0x2800 else ():
            raised = (code - 0x2800) >> (dot - 1) & 1
            pen.addComponent("disc" if raised else "ring", (1, 0, 0, 1, x, y))
        glyphs[name] = pen.glyph()
    order = [".notdef", "disc", "ring", *names.values()]
    font = FontBuilder(1000, isTTF=True)
    font.setupGlyphOrder(order)
    font.setupCharacterMap(names)
    font.setupGlyf({name: glyphs[name] for name in order})
    font.setupHorizontalMetrics(dict.fromkeys(order, (WIDTH, 0)))
    font.setupHorizontalHeader(ascent=880, descent=-60)
    font.setupNameTable({"familyName": "Drawn dots", "styleName": "Regular"})
    font.setupOS2(sTypoAscender=880, sTypoDescender=-60, usWinAscent=880, usWinDescent=60)
    font.setupPost(keepGlyphNames=False)
    font.font["head"].created = font.font["head"].modified = 0
    font.font.recalcTimestamp = False
    made = BytesIO()
    font.save(made)
    data = b64encode(made.getvalue()).decode("ascii")
    css = f'@font-face {{ font-family: "Drawn dots"; src: url(data:font/ttf;base64,{data}); }}\n'
    folder = Path(__file__).parents[1] / "convert" / "writers" / "html"
    (folder / "dots.css").write_text(css, "utf-8")


if __name__ == "__main__":
    main()
