"""Reading back: letters, contractions, punctuation and symbols."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from . import back_tables as tables
from . import back_words as words
from .back_modes import Modes
from .cells import ascii_of
from .signs import Sign

_BOUNDS = ("-", ",-", '",-')
_OPENERS = ('"<', ".<", "_<")
_OPENING_QUOTES = {",8": "‘", "^8": "“", ",7": '"'}
_CLOSING_QUOTES = {",0": "’", "^0": "”"}
# A two-cell double mark at the beginning of a word, after opening marks and indicators at most.
_WORD_BEGUN_BY_TWO_CELLS = re.compile(r"""(?:^|[ \-])(?:["._]<|8|'|[._^@][127])*\^8(?![ ]|$)""")
# Other codes inside the text (UEB 14): how each begins and ends.
_OTHER_CODES = (
    ("opening Nemeth code indicator", re.compile(r" _:|$")),
    ("opening IPA square bracket", re.compile(r"\^\)|$")),
    ("opening IPA slash", re.compile(r"\^/(?= |$|[124678903\">,.])|$")),
    ("non-UEB passage indicator", re.compile(r',"\)|$')),
    ("non-UEB word indicator", re.compile(r"\^\)|(?= )|$")),
)
# Horizontal line mode with two segments at least (UEB 16.2).
_LINE = re.compile(r'"3[317=j4w]{2,}(?=[ \']|$)')
# What the signs of technical material are read as, in print on one line (UEB 11).
_ELLIPSIS = "444"
_TECHNICAL = {
    "opening general fraction": "(",
    "general fraction line": "/",
    "closing general fraction": ")",
    "opening radical": "√(",
    "closing radical": ")",
}
_SILENT = (
    "dot locator for use",
    "shape terminator",
    "line indicator",
    "line continuation",
)


@dataclass(slots=True)
class Reader(Modes):
    """The state machine: :meth:`sign` reads one sign and moves on."""

    def sign(self) -> None:
        """Read the sign at ``at``."""
        if self.here(1) == " ":
            self.space()
            return
        if self.numeric:
            if self.in_number():
                return
            self.numeric = False
            self.spend()
        for attempt in (
            self.foreign,
            self.mentioned,
            self.guide_dots,
            self.drawn_line,
            self.number,
            self.grade_1,
            self.typeform,
            self.capital,
            self.ligature,
            self.letters,
            self.level,
            self.accented,
            self.quotation,
            self.printed,
        ):
            if attempt():
                return
        self.leftover()

    # ------------------------------------------------------------ letters

    def letters(self) -> bool:
        """A letter, or a whole letters-sequence where contractions may stand."""
        if not self.contracting:
            cell = self.here(1)
            if cell not in tables.letters():
                return False
            self.put_letters(cell, tables.letters()[cell])
            return True
        groups = words.sequence(self.text, self.at, self.open and not self.joined, self.joined)
        if not groups:
            return self.lower_wordsign()
        if self.open:
            groups = words.standing_alone(self.text, self.at, groups) or groups
        for group in groups:
            self.put_letters(group.cells, group.sign)
        return True

    def lower_wordsign(self) -> bool:
        """be, were, his, was: only between spaces, brackets and indicators (UEB 10.5)."""
        sign = tables.contraction("lower wordsign").get(self.here(1))
        if sign is None or not self.fresh or not words.bare(self.text, self.at + 1):
            return False
        self.put_letters(self.here(1), sign)
        return True

    def put_letters(
        self, cells: str, sign: Sign, print_: str = "", name: str = "", section: str = ""
    ) -> None:
        """File letters, in capitals as the mode says."""
        print_ = print_ or sign.print
        single = self.capitals == "next"
        if single:
            print_ = print_[0].upper() + print_[1:]
            self.capitals = ""
        elif self.capitals:
            print_ = print_.upper()
        plain = sign.kind == "letter"
        name = name or (f"letter {sign.name}" if plain else sign.kind)
        also = () if plain and len(cells) == 1 else self.others(cells, sign)
        self.put(len(cells), name, print_, "", section or sign.section, also)
        self.open, self.fresh, self.joined = False, False, True
        self.tell_used(["the capital sign"] if single else [], "letter")
        self.spend()

    def others(self, cells: str, chosen: Sign) -> tuple[str, ...]:
        """Other readings of the same cells in contracted braille, where there are any."""
        if not self.contracted or (len(cells) == 1 and words.is_upper(cells)):
            return ()
        rows = [
            table[cells]
            for kind in (
                "lower wordsign",
                "lower groupsign",
                "middle groupsign",
                "final-letter groupsign",
            )
            if cells in (table := tables.contraction(kind))
        ]
        rows += [sign for sign in tables.prints().get(cells, ()) if not sign.is_contraction]
        told = [
            f"“{s.print}”" if s.is_contraction else _short(s)
            for s in rows
            if s.print != chosen.print
        ]
        return tuple(name for name in dict.fromkeys(told) if name != _short(chosen))

    def ligature(self) -> bool:
        """Two letters joined by the ligature sign (UEB 4.3)."""
        mark = tables.by_name("ligature indicator")
        for length, cap in ((4, ""), (5, ",")):
            text = self.here(length)
            sign = tables.ligatures().get(text[:1] + text[-1:])
            if sign and text == text[0] + cap + mark + text[-1]:
                self.put_letters(text, sign, sign.print, sign.name)
                return True
        return False

    def accented(self) -> bool:
        """A letter, or letters in braille grouping, under modifiers (UEB 4.2)."""
        length = self.accent_at(self.at)
        if not length or self.letter_at(self.at):
            return False
        end = self.at + length
        marks = [tables.modifiers()[pair][0] for pair in self.modifiers_to(end)]
        if self.text[end] == "<":
            return self.accented_group(end, marks)
        sign = self.letter_at(end) or tables.letters()[self.text[end]]
        cells = self.text[self.at : end] + ascii_of(sign.cells)
        names = " and ".join(mark.name for mark in marks)
        known = "".join(mark.print for mark in marks if len(mark.print) == 1)
        # What a transcriber defined has no print here: its cells are given instead.
        own = "".join(mark.cells for mark in marks if len(mark.print) > 1)
        print_ = own + unicodedata.normalize("NFC", sign.print + known)
        name = f"letter {sign.name}, {names}"
        self.put_letters(cells, sign, print_, name, marks[0].section)
        return True

    def modifiers_to(self, end: int) -> list[str]:
        """The modifiers that stand here, up to ``end``."""
        out, at = [], self.at
        while at < end:
            length = 3 if self.text[at : at + 3] in tables.modifiers() else 2
            out.append(self.text[at : at + length])
            at += length
        return out

    def accented_group(self, at: int, marks: list[Sign]) -> bool:
        """Several letters under one mark (UEB 4.2.5): ``at`` is the opening grouping sign."""
        close = self.text.find(">", at)
        inside = self.text[at + 1 : close]
        if close < 0 or not inside or any(cell not in tables.letters() for cell in inside):
            return False
        double = [row for row in tables.modifiers()[self.text[at - 2 : at]] if row.double]
        mark = (double or marks)[-1]
        print_ = mark.print.join(inside) if double else "".join(c + mark.print for c in inside)
        sign = tables.letters()[inside[0]]
        names = f"letters {inside}, {mark.name}"
        self.put_letters(self.text[self.at : close + 1], sign, print_, names, mark.section)
        return True

    # ------------------------------------------------------------ punctuation and symbols

    def quotation(self) -> bool:
        """Quotation marks and the question mark, told apart by their place (UEB 7.6)."""
        cells = self.here(2)
        if cells in _OPENING_QUOTES or cells in _CLOSING_QUOTES:
            print_ = _OPENING_QUOTES.get(cells) or _CLOSING_QUOTES[cells]
            self.mark(tables.prints()[cells][0], cells, print_)
            return True
        cell = self.here(1)
        if cell not in ("8", "0"):
            return False
        opening, closing = ("“", "”") if self.doubles() else ("‘", "’")
        signs = {s.name: s for s in tables.prints()[cell]}
        if cell == "0":
            self.mark(signs["one-cell closing quotation mark"], cell, closing)
        elif self.question():
            self.mark(tables.question_mark(), cell, "?")
        else:
            self.mark(signs["one-cell opening quotation mark"], cell, opening)
        return True

    def doubles(self) -> bool:
        """Whether the one-cell marks are double ones: single ones have the other form, or double
        ones have it only in mid-word and by themselves (UEB 7.6.4, 10.12.12)."""
        text = self.text
        if ",8" in text or ("^8" not in text and "^0" not in text):
            return True
        return "^8" in text and _WORD_BEGUN_BY_TWO_CELLS.search(text) is None

    def question(self) -> bool:
        """Whether dots 2-3-6 here are a question mark, not an opening quotation mark."""
        after = self.text[self.at + 1 : self.at + 2]
        if self.grade1 == "next" or after in ("", " "):
            return True
        if self.open:
            return False
        return self.joined or not words.letterish(self.text, self.at + 1)

    def printed(self) -> bool:
        """Punctuation, symbols and letters of several cells, the longest first."""
        stops = len(self.text[self.at :]) - len(self.text[self.at :].lstrip("4"))
        if stops > 1 and (stops != len(_ELLIPSIS) or self.text[self.at - 1 : self.at] == "4"):
            self.mark(tables.prints()["4"][0], "4", ".")
            return True
        for length in range(7, 0, -1):
            cells = self.here(length)
            for sign in tables.prints().get(cells, ()) if len(cells) == length else ():
                if sign.grade1 and self.contracting:
                    continue
                if length == 1 and self.contracting and not words.is_lower(cells):
                    continue
                if sign.kind == "letter":
                    self.put_letters(cells, sign)
                else:
                    # What a transcriber defined has no print here: its cells are given instead.
                    own = self.cells[self.at : self.at + length]
                    self.mark(sign, cells, sign.print or own)
                return True
        return False

    def mark(self, sign: Sign, cells: str, print_: str) -> None:
        """File a punctuation mark or a symbol, and what it does to the bounds of words."""
        self.joined = False
        self.capitals = "" if self.capitals in ("word", "next") else self.capitals
        if cells in _BOUNDS:
            self.bound()
        self.put(len(cells), _short(sign), print_, "", sign.section, self.others(cells, sign))
        if cells in _BOUNDS or cells in _OPENERS:
            pass
        elif cells in _OPENING_QUOTES or cells in ("'", "8", "_8"):
            self.fresh = False
            self.open = self.open and print_ != "?"
        else:
            self.open, self.fresh = False, False
        self.spend()

    # ------------------------------------------------------------ the rest

    def level(self) -> bool:
        """Superscript and subscript indicators (UEB 3.24), and braille grouping (3.4)."""
        if self.contracting:
            return False
        for form in ("superscript", "subscript"):
            if self.ahead(name := f"{form} indicator"):
                self.forms[form] = "symbol"
                self.indicate(name, f"the next item is a {form}")
                if self.grade1 == "next":
                    self.grade1 = ""
                    self.tell_used(["grade 1"], "indicator")
                return True
        if self.ahead("opening braille grouping"):
            self.grouping += 1
            self.indicate("opening braille grouping", "the signs that follow are one item")
        elif self.grouping and self.ahead("closing braille grouping"):
            self.grouping -= 1
            self.indicate("closing braille grouping", "the item ends")
            self.spend()
        else:
            return False
        return True

    def foreign(self) -> bool:
        """Matter in another code (UEB 14): not read, the cells are given as they are."""
        for name, ending in _OTHER_CODES:
            if self.ahead(name):
                self.indicate(name, "another braille code follows, which is not read here")
                found = ending.search(self.text, self.at)
                end = found.start() if found else len(self.text)
                if end > self.at:
                    self.put(end - self.at, "another code", self.cells[self.at : end])
                if found and found.end() > found.start():
                    self.put(found.end() - found.start(), "end of the other code", "", "", "14")
                return True
        return False

    def mentioned(self) -> bool:
        """Braille that print shows as cells, up to the next space (UEB 3.13)."""
        name = "dot locator for mention"
        if not self.ahead(name):
            return False
        self.indicate(name, "the cells up to the next space are shown, not read")
        shown = self.text[self.at :].split(" ")[0]
        for cell in self.cells[self.at : self.at + len(shown)]:
            self.put(1, "a cell that print shows", cell)
        self.open, self.fresh, self.joined = False, False, False
        return True

    def guide_dots(self) -> bool:
        """Two or more cells of dot 5 between spaces (UEB 16.5); dot 5 at a line end (6.10)."""
        found = re.match(r'"{2,}(?= |$)', self.text[self.at :])
        if found and self.fresh and self.open:
            self.put(found.end(), "guide dots", "", "they lead across the line", "16.5")
            return True
        found = re.match(r'""? *$', self.text[self.at :])
        if found:
            self.put(found.end(), "line continuation", "", "it goes on in the next line", "6.10")
        return bool(found)

    def drawn_line(self) -> bool:
        """A line of horizontal line mode, up to a space or its terminator (UEB 16.2)."""
        found = _LINE.match(self.text, self.at)
        if found is None:
            return False
        self.indicate("horizontal line mode indicator", "segments of a drawn line follow")
        for cell in self.text[self.at : found.end()]:
            sign = tables.segments()[cell]
            self.put(1, sign.name, sign.print, "", sign.section)
        if self.ahead("horizontal line mode terminator"):
            self.indicate("horizontal line mode terminator", "the line ends")
        self.open, self.fresh, self.joined = False, False, False
        return True

    def leftover(self) -> None:
        """Signs of technical material, and cells that mean nothing here."""
        for name, print_ in [*_TECHNICAL.items(), *((name, "") for name in _SILENT)]:
            if self.ahead(name):
                self.indicate_print(name, print_)
                break
        else:
            cell = self.cells[self.at]
            self.put(1, "a cell that has no reading here", cell)
        self.open, self.fresh, self.joined = False, False, False
        self.spend()


def _short(sign: Sign) -> str:
    """A sign's name without what the table adds to it."""
    return sign.name.partition(" (")[0].partition(",")[0]
