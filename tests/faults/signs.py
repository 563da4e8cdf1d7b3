# ruff: noqa: E501 (markup in one piece)
"""Faults 31 to 61: characters, numbers, units, technical matter."""

from __future__ import annotations

from ..readers.make_docx import p, r
from .case import Case

MATH = '<math xmlns="http://www.w3.org/1998/Math/MathML"><mi>x</mi><mo>+</mo><mn>3</mn></math>'
PICTURE = '<p>So <img src="e.png" alt="{}"/> holds.</p>'
BULLETS = '<w:abstractNum w:abstractNumId="0"><w:lvl w:ilvl="0"><w:numFmt w:val="bullet"/><w:lvlText w:val="\uf0b7"/><w:rPr><w:rFonts w:ascii="Symbol" w:hAnsi="Symbol"/></w:rPr></w:lvl></w:abstractNum><w:num w:numId="1"><w:abstractNumId w:val="0"/></w:num>'
IN_LIST = '<w:numPr><w:ilvl w:val="0"/><w:numId w:val="1"/></w:numPr>'

CASES = (
    Case(
        31,
        "soft hyphens",
        "Soft\u00adware runs.",
        "Software runs.",
        ("clean.soft-hyphens",),
        same=True,
        place=None,
    ),
    Case(
        32,
        "a hyphen of a line end",
        "The trans- port came. Our transport is late.",
        "The transport came. Our transport is late.",
        ("clean.line-end-hyphens",),
        same=True,
        place=None,
    ),
    Case(33, "ligature letters", "We \ufb01nd o\ufb03ce work.", "We find office work.", same=True),
    Case(
        34,
        "invisible characters",
        "The sea\u200b\ufeff is\u2060 salt.",
        "The sea is salt.",
        ("clean.invisible",),
        same=True,
        place=None,
    ),
    Case(
        35,
        "a character without a sign",
        "The price is \u20bf5.",
        "The price is $5.",
        ("ueb.unknown-character",),
    ),
    Case(
        35,
        "letters of another script",
        "They say \u65e5\u672c here.",
        "They say so here.",
        ("ueb.other-script",),
    ),
    Case(
        36,
        "a bullet of a symbol font",
        p("rope", props=IN_LIST),
        holds="_4 rope",
        medium="docx",
        parts=(("numbering", BULLETS),),
    ),
    Case(37, "a narrow space inside a number", "It weighs 5\u202f000 tons.", holds='#e"jjj'),
    Case(
        38,
        "grave accents for quotation marks",
        "He said ``stay'' now.",
        "He said “stay” now.",
        ("clean.quotation-marks",),
        same=True,
        place=None,
    ),
    Case(39, "an apostrophe typed as an opening mark", "\u2019tis late.", holds="'tis"),
    Case(
        40,
        "a hyphen for a dash or minus",
        "It is 5 - 10 now.",
        "It is 5\u201310 now.",
        ("suspect.minus",),
    ),
    Case(
        41,
        "two hyphens for a dash",
        "The sea--it is salt--roars.",
        "The sea\u2014it is salt\u2014roars.",
        ("clean.maybe-dash",),
    ),
    Case(
        42,
        "marks for feet and inches",
        "A mast of 5'10\" fell.",
        "A mast of 5\u203210\u2033 fell.",
        ("clean.maybe-prime",),
    ),
    Case(
        43,
        "figures for letters",
        "The w0rd was th1s.",
        "The word was this.",
        ("suspect.look-alike",),
    ),
    Case(
        43, "letters for figures", "In l9l4 it began.", "In 1914 it began.", ("suspect.look-alike",)
    ),
    Case(
        43,
        "rn for m",
        "He carne hom and sold his farrn.",
        "He came home and sold his farm.",
        ("suspect.look-alike",),
    ),
    Case(43, "50 for so", "It was 50 that we went.", "It was so that we went.", ("suspect.so",)),
    Case(
        44,
        "a stray capital",
        "I know whY he went.",
        "I know why McDonald has an iPhone.",
        ("suspect.inner-capitals",),
    ),
    Case(
        44,
        "a lost space after a mark",
        "They found the end.Then they left.",
        "They found the end. Then they left.",
        ("suspect.missing-space",),
    ),
    Case(45, "decomposed accents", "The cafe\u0301 opens.", "The caf\u00e9 opens.", same=True),
    Case(
        46,
        "separate numbers side by side",
        "Take 2 5 mg tablets and call 911 3 times.",
        holds="#b #e mg",
    ),
    Case(
        47,
        "a letter after a number among capitals",
        "THE CODE ABC 456G HIJ IS HERE.",
        holds="#def;g",
    ),
    Case(48, "a decimal after a letter", "Rule a.02 holds.", holds="a4#jb"),
    Case(49, "fractions", "Use 1\u00bd cups.", holds="#a#a/b"),
    Case(
        50, "a unit as scanning spoils it", "Give 5 rng now.", "Give 5 mg now.", ("suspect.unit",)
    ),
    Case(
        51,
        "a power on the line",
        "A field of 20 m2 lies here.",
        "A field of 20 m<sup>2</sup> lies here.",
        ("suspect.flattened-script",),
    ),
    Case(
        51,
        "a power made of a small raised figure",
        p(r("A field of 20 m") + r("2", '<w:position w:val="8"/><w:sz w:val="14"/>')),
        p(r("A field of 20 m") + r("2", '<w:vertAlign w:val="superscript"/>')),
        same=True,
        medium="docx",
    ),
    Case(
        52,
        "a chemical formula on the line",
        "We need H2O and CO2.",
        "We need H<sub>2</sub>O and CO<sub>2</sub>.",
        ("suspect.flattened-script",),
    ),
    Case(
        53,
        "a formula as a picture",
        PICTURE.format("equation"),
        f"<p>So {MATH} holds.</p>",
        ("maths.picture",),
    ),
    Case(
        54,
        "a formula typed as text",
        "Let x2 + 3 be y.",
        f"<p>Let {MATH} be.</p>",
        ("suspect.typed-maths",),
    ),
    Case(
        55,
        "the code for mathematics",
        f"<p>So {MATH} holds.</p>",
        "<p>So it holds.</p>",
        ("suspect.maths-code",),
    ),
    Case(56, "an address of the web", "Go to www.tide.org now.", holds="www4tide4org"),
    Case(57, "program code", "<pre>if tide:\n    sail()</pre>", holds='sail"<">'),
    Case(58, "notation of music", "Play \u2669 twice.", "Play it twice.", ("suspect.notation",)),
    Case(
        58,
        "notation of chess",
        "White has Nf3, Bb5, O-O and Re1.",
        "White has three men.",
        ("suspect.notation",),
    ),
    Case(59, "letters of a list", "Choose T or F.", holds=";,t or ;,f"),
    Case(60, "scores and times", "They won 3-2 at 20:07.", holds="#c-#b at #bj3#jg"),
    Case(61, "a section sign and a dagger", "See \u00a7 4 and \u2020 there.", holds="^s #d"),
)
