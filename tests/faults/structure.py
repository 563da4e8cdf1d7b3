# ruff: noqa: E501 (markup in one piece)
"""Faults 1 to 30: print pages and structure."""

from __future__ import annotations

from ..readers.make_docx import p, r
from .case import ABOVE, BELOW, Case, turn

WORDS = "The keeper of the harbour light wrote down each ship that passed"
HEAD = "The Harbour Light"
COLUMNS = "".join(
    f"<pre>{a}     {b}</pre>" for a, b in (("tide", "high"), ("wind", "low"), ("sea", "calm"))
)
VERSE = (
    "The ship was cheered",
    "the harbour cleared",
    "and merrily did we drop",
    "below the kirk",
    "below the hill",
    "below the lighthouse top",
)


def poem(mark: bool) -> str:
    rows = "<br/>".join(
        f"{line} {5 * (at // 2 + 1)}" if mark and at % 2 else line for at, line in enumerate(VERSE)
    )
    return f"<p>{rows}</p>"


def paragraphs(*rows: str) -> str:
    return "".join(f"<p>{row}</p>" for row in rows)


def pages(text: str) -> str:
    """Four paragraphs with a line between each two."""
    return "".join(f"<p>{WORDS}.</p>{text.format(n)}" for n in range(21, 25))


LIST = '<w:abstractNum w:abstractNumId="0"><w:lvl w:ilvl="0"><w:start w:val="1"/><w:numFmt w:val="decimal"/><w:lvlText w:val="%1."/></w:lvl></w:abstractNum>'
NUM = f'{LIST}<w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num>'
IN_LIST = '<w:numPr><w:ilvl w:val="0"/><w:numId w:val="1"/></w:numPr>'
BOX = (
    "<w:p><w:r><w:pict><v:shape><v:textbox><w:txbxContent><w:p><w:r><w:t>Mind the tide.</w:t></w:r>"
    "</w:p></w:txbxContent></v:textbox></v:shape></w:pict></w:r></w:p>"
)
CELL = "<w:tc><w:p><w:r><w:t>{}</w:t></w:r></w:p></w:tc>"
TABLE = f"<w:tbl><w:tr>{CELL.format('sea')}{CELL.format('salt')}</w:tr><w:tr>{CELL.format('lake')}{CELL.format('fresh')}</w:tr></w:tbl>"
LONG = f"<w:tbl><w:tr>{CELL.format(WORDS + '.')}</w:tr></w:tbl>"
NOTE = '<w:r><w:footnoteReference w:id="2"/></w:r>'
DELETED = '<w:p><w:r><w:t>Boats </w:t></w:r><w:del w:id="1" w:author="A"><w:r><w:delText>never </w:delText></w:r></w:del><w:r><w:t>sail.</w:t></w:r></w:p>'
INSTRUCTION = '<w:p><w:r><w:t>See </w:t></w:r><w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText> REF tide </w:instrText></w:r><w:r><w:fldChar w:fldCharType="separate"/></w:r><w:r><w:t>the tide.</w:t></w:r><w:r><w:fldChar w:fldCharType="end"/></w:r></w:p>'

CASES = (
    Case(
        1,
        "no print page numbers",
        f"<p>{ABOVE}</p>",
        f"{turn('1')}<p>{ABOVE}</p>",
        ("read.no-print-pages",),
        whole=True,
        place=None,
    ),
    Case(
        2,
        "page numbers as literal text",
        pages("<p>[{}]</p>"),
        pages(""),
        ("suspect.page-number",),
        place=("2", 1, "1", 6),
    ),
    Case(
        3,
        "page marks only by their type, or only by their role",
        f'{turn("1")}<p>{ABOVE}</p><span role="doc-pagebreak" title="2"></span><p>{BELOW}</p>',
        f"{turn('1')}<p>{ABOVE}</p>{turn('2')}<p>{BELOW}</p>",
        same=True,
        whole=True,
    ),
    Case(
        4,
        "a gap in the page numbers",
        turn("7") + f"<p>{WORDS}.</p>",
        turn("3") + f"<p>{WORDS}.</p>",
        ("read.page-gap",),
        place=None,
    ),
    Case(5, "the mark belongs to the page that starts", f"<p>{WORDS}.</p>", holds="#b"),
    Case(6, "roman and prefixed page numbers", turn("iv") + f"<p>{WORDS}.</p>", holds="--iv"),
    Case(
        7,
        "a word split over a page turn",
        '<p>The light<span role="doc-pagebreak" aria-label="3"></span>house stood.</p>',
        '<p>The lighthouse <span role="doc-pagebreak" aria-label="3"></span>stood.</p>',
        ("read.turn-inside-word",),
    ),
    Case(
        8,
        "a heading made by bold",
        p(r(HEAD, "b")) + p(WORDS + "."),
        p(HEAD) + p(WORDS + "."),
        ("docx.maybe-heading",),
        medium="docx",
    ),
    Case(
        8,
        "a heading made by large letters in the middle",
        p(r(HEAD, '<w:sz w:val="40"/>'), "", '<w:jc w:val="center"/>') + p(WORDS + "."),
        p(HEAD) + p(WORDS + "."),
        ("docx.maybe-heading",),
        medium="docx",
    ),
    Case(
        8,
        "a heading made by bold in a book",
        f"<p><b>{HEAD}</b></p><p>{WORDS}.</p>",
        f"<p>{HEAD}</p><p>{WORDS}.</p>",
        ("suspect.bold-line",),
    ),
    Case(
        9,
        "a heading style used for looks",
        f"<h2>{WORDS}, and then went home.</h2>",
        f"<h2>{HEAD}</h2>",
        ("suspect.heading",),
        place=("2", 1, "1", 5),
    ),
    Case(
        9,
        "a skipped heading level",
        f"<h1>{HEAD}</h1><p>{WORDS}.</p><h4>Ships</h4><p>{BELOW}</p>",
        f"<h1>{HEAD}</h1><p>{WORDS}.</p><h2>Ships</h2><p>{BELOW}</p>",
        ("suspect.heading-level",),
        place=("2", 1, "1", 10),
    ),
    Case(
        10,
        "headings in capitals",
        f"<h1>{HEAD.upper()}</h1>",
        f"<h1>{HEAD}</h1>",
        ("suspect.capitals",),
        place=("2", 1, "1", 5),
    ),
    Case(
        11,
        "running heads in the flow",
        pages("<p>{} The Harbour Light</p>"),
        pages(""),
        ("suspect.running-head",),
        place=("2", 1, "1", 6),
    ),
    Case(12, "columns by spaces", COLUMNS, "<pre>tide high</pre>", ("suspect.space-columns",)),
    Case(
        12,
        "columns by tabs",
        "".join(
            p(f"<w:r><w:t>{a}</w:t><w:tab/><w:t>high</w:t></w:r>") for a in ("tide", "wind", "sea")
        ),
        p("tide high"),
        ("docx.tab-columns",),
        medium="docx",
    ),
    Case(
        13,
        "a list typed by hand",
        paragraphs("- rope", "- nets", "- sails"),
        "<ul><li>rope</li><li>nets</li><li>sails</li></ul>",
        ("suspect.typed-list",),
    ),
    Case(
        14,
        "numbers that only the numbering part holds",
        p("rope", props=IN_LIST) + p("nets", props=IN_LIST),
        holds="#b4 nets",
        medium="docx",
        parts=(("numbering", NUM),),
    ),
    Case(
        15,
        "columns read across",
        paragraphs(WORDS + " and the", "of the sea and the wind that blows."),
        paragraphs(WORDS + ".", "Of the sea and the wind that blows."),
        ("suspect.broken-sentence",),
    ),
    Case(
        16,
        "a text box",
        BOX,
        p("Mind the tide."),
        ("docx.text-box",),
        holds=",m9d ! tide4",
        medium="docx",
        place=("2", 1, "1", 6),
    ),
    Case(
        17,
        "a table between paragraphs",
        p("Waters are:") + TABLE + p("So much for waters."),
        holds=",s m* = wat]s4",
        medium="docx",
    ),
    Case(
        18,
        "the document inside a layout table",
        LONG,
        p(WORDS + "."),
        ("docx.layout-table",),
        medium="docx",
        place=("2", 1, "1", 6),
    ),
    Case(
        19,
        "a note mark without its note",
        '<p>The law<a epub:type="noteref" href="#n9">2</a> holds.</p>',
        '<p>The law<a epub:type="noteref" href="#n9">2</a> holds.</p><aside epub:type="footnote" id="n9"><p>2 Of 1910.</p></aside>',
        ("read.mark-without-note",),
    ),
    Case(
        20,
        "a note mark glued to its word",
        "The law2 holds. It is the law.",
        "The law holds. It is the law.",
        ("suspect.flattened-script",),
    ),
    Case(
        21,
        "side matter inside a sentence",
        f"<p>{WORDS} on its way</p><aside><p>Mind the tide.</p></aside><p>to the south and the open sea.</p>",
        f"<p>{WORDS}.</p><aside><p>Mind the tide.</p></aside><p>To the south is the open sea.</p>",
        ("suspect.side-matter",),
    ),
    Case(22, "line numbers in a poem", poem(True), poem(False), ("suspect.line-numbers",)),
    Case(
        23,
        "lines of an address",
        "<p>4 Quay Street<br/>Norport</p>",
        holds=",norport",
        lacks=",/reet ,norport",
    ),
    Case(
        24,
        "a play in plain paragraphs",
        paragraphs(
            "<b>Anna</b> Is the boat in?",
            "<b>Ben</b> Not yet.",
            "<b>Anna</b> It is late.",
            "<b>Ben</b> It is.",
        ),
        paragraphs("Is the boat in?", "Not yet.", "It is late.", "It is."),
        ("suspect.play",),
    ),
    Case(
        25,
        "a contents list copied from print",
        paragraphs("Tides .... 3", "Winds .... 9", "Ships .... 14"),
        paragraphs("Tides", "Winds", "Ships"),
        ("suspect.contents-list",),
    ),
    Case(
        26,
        "a page reference in a book without print pages",
        "<p>On tides see page 45.</p>",
        "<p>On tides see below.</p>",
        ("suspect.page-reference",),
        whole=True,
        place=("", 1, "1", 1),
    ),
    Case(
        27,
        "an exercise and its choices",
        "<ol><li>Which is salt?<ol type='a'><li>sea</li><li>lake</li></ol></li></ol>",
        holds="#a4",
    ),
    Case(
        28,
        "parallel texts by turns",
        "".join(f'<p>{WORDS}.</p><p lang="fr">Le bateau est dans le port.</p>' for _ in range(3)),
        f"<p>{WORDS}.</p>" * 4 + '<p lang="fr">Le bateau est dans le port.</p>',
        ("suspect.parallel-text",),
    ),
    Case(
        29,
        "deleted text of tracked changes",
        DELETED,
        p("Boats sail."),
        ("docx.revisions",),
        lacks='n"e',
        medium="docx",
        place=None,
    ),
    Case(
        30,
        "hidden text",
        p(r("The answer is ") + r("forty", "vanish") + r("not here.")),
        p("The answer is not here."),
        ("docx.hidden-text",),
        lacks="=ty",
        medium="docx",
        place=None,
    ),
    Case(30, "a field code", INSTRUCTION, p("See the tide."), same=True, medium="docx"),
)
