"""Faults 62 to 84: words, languages, emphasis, colour, pictures, blanks."""

from __future__ import annotations

from ..readers.make_docx import p, r
from .case import Case
from .structure import WORDS

FRENCH = "Elle est dans une maison avec les enfants."
DRAWN = '<p><img src="boat.png" alt="{}"/></p>'
BOLD_ALL = "<p><b>" + (WORDS + ". ") * 20 + "</b></p>"
PLAIN_ALL = "<p>" + (WORDS + ". ") * 20 + "</p>"

CASES = (
    Case(
        62,
        "unmarked words of another language",
        f"She wrote: {FRENCH}",
        f'<p>She wrote: <i lang="fr">{FRENCH}</i></p>',
        ("suspect.language",),
    ),
    Case(
        63,
        "an unmarked passage in another language",
        f"<p>{FRENCH}</p>",
        f'<p lang="fr">{FRENCH}</p>',
        ("suspect.language",),
    ),
    Case(64, "an anglicised name", "Mr Baker runs.", holds=",mr ,bak]"),
    Case(
        65,
        "a respelling of how a word is spoken",
        "A picture (PIK-chur) hangs.",
        "A picture (an oil) hangs.",
        ("ueb.respelling",),
    ),
    Case(66, "syllable dots", "Say sail\u00b7or now.", holds='sail"4or'),
    Case(67, "a word spelled out", "It is spelled d-o-g here.", holds=";d-o-;g"),
    Case(68, "a stammer", "I s-s-see it.", "I see it.", ("suspect.stammer",)),
    Case(70, "a contraction that the sound decides", "The mishap was here.", holds="mishap"),
    Case(
        71,
        "a spelling lesson",
        "Learn these spelling words: tide, wind.",
        "Learn these words: tide, wind.",
        ("suspect.spelling",),
    ),
    Case(
        72,
        "errors on purpose",
        "Find the mistakes: he go home.",
        "Read on: he goes home.",
        ("suspect.meant-errors",),
        holds="he g home",
    ),
    Case(73, "a compound with its hyphen", "A well-known man.", holds='well-"kn'),
    Case(74, "an obscured word", "The d\u2014n boat.", holds=";d,-;n"),
    Case(75, "emphasis everywhere", BOLD_ALL, PLAIN_ALL, ("suspect.emphasis",), place=None),
    Case(
        76,
        "emphasis that the text speaks of",
        "The words in bold are explained below.",
        "The words are explained below.",
        ("suspect.emphasis-words",),
    ),
    Case(
        77,
        "emphasis split into runs",
        "<p>The <b>har</b><b>bo</b><b>ur</b> light.</p>",
        "<p>The <b>harbour</b> light.</p>",
        same=True,
    ),
    Case(
        78,
        "an instruction by colour",
        "Write your answers in red.",
        "Write your answers in full.",
        ("suspect.colour-words",),
    ),
    Case(
        78,
        "words printed in colour",
        p(r("Sharks", '<w:color w:val="FF0000"/>')),
        p("Sharks"),
        ("docx.colour",),
        medium="docx",
    ),
    Case(79, "struck words", "Boats <s>never</s> sail.", "Boats sail.", ("suspect.struck",)),
    Case(
        79,
        "struck words of a word processor",
        p(r("Boats ") + r("never", "strike") + r(" sail.")),
        p("Boats sail."),
        ("suspect.struck",),
        medium="docx",
    ),
    Case(
        79,
        "text in the colour of the paper",
        p(r("Answer: ") + r("forty", '<w:color w:val="FFFFFF"/>')),
        p("Answer:"),
        ("docx.colour",),
        medium="docx",
    ),
    Case(
        80,
        "a first letter cut off",
        "T he keeper went home.",
        "The keeper went home.",
        ("suspect.drop-capital",),
    ),
    Case(
        81,
        "a picture without words",
        '<p><img src="boat.png"/></p>',
        DRAWN.format("A boat with two masts at the quay"),
        ("read.picture-without-alt",),
    ),
    Case(
        81,
        "a file name for a description",
        DRAWN.format("boat.png"),
        DRAWN.format("A boat with two masts at the quay"),
        ("read.picture-poor-alt",),
    ),
    Case(
        81,
        "a text that needs its picture",
        "Look at the picture on the right.",
        "Look at the boat.",
        ("suspect.picture-words",),
    ),
    Case(
        82,
        "a page that is only a picture",
        '<img src="page.png" alt=""/>',
        f"<p>{WORDS}.</p>",
        ("read.picture-page",),
        whole=True,
        place=None,
    ),
    Case(83, "a blank of low lines", "Name: ________ here.", "Name: __ here.", same=True),
    Case(83, "a blank of dots", "Name: ........", "Name: __", ("suspect.dots",)),
    Case(
        83,
        "a blank of dots that a tab draws",
        p(
            "<w:r><w:t>Name: </w:t><w:tab/></w:r>",
            "",
            '<w:tabs><w:tab w:val="right" w:leader="dot" w:pos="5000"/></w:tabs>',
        ),
        p("Name: ____"),
        same=True,
        medium="docx",
    ),
    Case(
        83,
        "a blank of dots that the reader makes room of",
        p("Name: ........"),
        p("Name: ____"),
        ("suspect.dots-as-blank",),
        medium="docx",
    ),
    Case(84, "check boxes", "\u2610 yes \u2611 no", "yes no", holds="yes"),
)
