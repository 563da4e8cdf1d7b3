"""The inlines of the document tree: one flat tuple of runs in each block.

Braille typeform rules ask "how many words in a row share this typeform?", which is a scan over
flat runs.  ``nodes`` offers all of these as well.
"""

from __future__ import annotations

from dataclasses import dataclass

# Typeforms: bits, so that a run can carry several.
ITALIC, BOLD, UNDERLINE, SCRIPT = 1, 2, 4, 8
SUP, SUB, SMALL_CAPS, STRIKE = 16, 32, 64, 128
TRANSCRIBER = (256, 512, 1024, 2048, 4096)
TRANSCRIBER_NOTE = 8192
INITIAL_CAPITALS = 16384  # No typeform of print: full capitals are read as initial ones (BF 14.1).

TYPEFORM_BITS = {
    "italic": ITALIC,
    "bold": BOLD,
    "underline": UNDERLINE,
    "script": SCRIPT,
    "sup": SUP,
    "sub": SUB,
    "small-caps": SMALL_CAPS,
    "strike": STRIKE,
    **{f"transcriber-{n}": bit for n, bit in enumerate(TRANSCRIBER, 1)},
    "transcriber-note": TRANSCRIBER_NOTE,
}


# Voices of computer notation, whose print is never taken for anything else.
PROGRAM = "program"
COMPUTER = frozenset(("computer", PROGRAM))


@dataclass(frozen=True, slots=True, init=False)
class Run:
    """A stretch of print of one typeform and language.

    ``voice`` is ``""`` (literary), ``"computer"`` (addresses, code), ``"program"``
    (code set apart in lines of its own) or ``"phonetic"``.
    """

    start: int
    end: int
    typeform: int = 0
    lang: str = ""
    voice: str = ""

    def __init__(
        self, start: int, end: int, typeform: int = 0, lang: str = "", voice: str = ""
    ) -> None:
        # As a frozen data class would do it, in half the time: a book has tens of thousands.
        _set_start(self, start)
        _set_end(self, end)
        _set_typeform(self, typeform)
        _set_lang(self, lang)
        _set_voice(self, voice)


_set_start, _set_end, _set_typeform, _set_lang, _set_voice = (
    Run.__dict__[name].__set__ for name in ("start", "end", "typeform", "lang", "voice")
)


@dataclass(frozen=True, slots=True, init=False)
class LineNumber(Run):
    """The number print has beside a line of prose, where that line starts or ends.

    Everything that does not set lines may take it for the run it is.
    """


@dataclass(frozen=True, slots=True)
class Added:
    """Words the edition needs that print does not have (a note by the program, a label)."""

    text: str
    typeform: int = 0


@dataclass(frozen=True, slots=True)
class MathRun:
    """An expression inside text: its source, and its print or alternative text in the ledger.

    ``mathml`` holds MathML, Office MathML, TeX or a linear expression.  ``code`` (``ueb``,
    ``nemeth``) and ``cells`` (Unicode braille) are what a person chose for this one.
    """

    start: int
    end: int
    mathml: str
    code: str = ""
    cells: str = ""


@dataclass(frozen=True, slots=True)
class NoteCall:
    """The mark that calls a note; ``target`` is the id of the Footnote."""

    start: int
    end: int
    target: str
    typeform: int = 0


@dataclass(frozen=True, slots=True)
class PrintPageTurn:
    """Print page ``label`` begins here, inside a block.  ``None``: an unnumbered page."""

    label: str | None


@dataclass(frozen=True, slots=True)
class AnswerSpace:
    """Room print leaves for an answer.

    ``kind``: ``line``, ``box`` (a box to write in), ``check`` (an empty check box),
    ``checked`` (a ticked one), ``choice`` (a drop-down list).  The span covers what print
    shows (underscores, a box character), empty where print shows only space.  ``name`` is
    the field's own name, ``choices`` the entries of a drop-down list.
    """

    start: int
    end: int
    kind: str
    name: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class InlineGraphic:
    """A picture inside a line of text; the span is its alternative text in the ledger.

    ``decorative`` only when the source says so.
    """

    start: int
    end: int
    resource: str
    decorative: bool = False


@dataclass(frozen=True, slots=True)
class LineBreak:
    """A line end that print makes on purpose (addresses, verse set as a paragraph)."""


Inline = Run | Added | MathRun | NoteCall | PrintPageTurn | AnswerSpace | InlineGraphic | LineBreak
Inlines = tuple[Inline, ...]
