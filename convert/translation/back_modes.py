"""Reading back: where the reader is, the modes that are on, and the signs that change them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from . import back_tables as tables
from . import back_words as words
from .signs import Sign

FRACTION_SLASH = "\u2044"
_CLOSING_NOTE = "closing transcriber's note"
_NOTE = {"passage": "a transcriber's note begins", "end": "the transcriber's note ends"}
_LEVELS = ("subscript", "superscript")


@dataclass(frozen=True, slots=True)
class Step:
    """One sign read.

    ``start`` is its first cell from 0, ``cells`` Unicode braille; ``print`` is what it stands
    for (``""`` for an indicator), ``says`` what it does to the signs after it, ``section`` of
    the UEB rules, ``also`` other readings of the same cells.
    """

    start: int
    cells: str
    name: str
    print: str = ""
    says: str = ""
    section: str = ""
    also: tuple[str, ...] = ()
    forms: tuple[str, ...] = ()

    @property
    def end(self) -> int:
        return self.start + len(self.cells)


@dataclass(slots=True)
class Modes:
    """Where we are and which modes are on.

    ``open``: only opening marks since a space, hyphen or dash, so a word may begin here
    (UEB 2.6.2).  ``fresh``: not even an opening quotation mark since a space.  ``joined``: a
    letter stands just before.  ``capitals`` and ``grade1`` are ``""``, ``next``, ``word``,
    ``passage`` (grade 1 also ``number``: set by a numeric indicator, UEB 5.6.2).
    """

    text: str
    cells: str
    contracted: bool
    at: int = 0
    steps: list[Step] = field(default_factory=list)
    open: bool = True
    fresh: bool = True
    joined: bool = False
    capitals: str = ""
    grade1: str = ""
    passage1: bool = False
    numeric: bool = False
    number_passage: bool = False
    forms: dict[str, str] = field(default_factory=dict)
    grouping: int = 0
    last: tuple[bool, str, str, frozenset[str]] = (False, "", "", frozenset())

    # ------------------------------------------------------------ putting down what was read

    def put(
        self,
        length: int,
        name: str,
        print_: str = "",
        says: str = "",
        section: str = "",
        also: tuple[str, ...] = (),
    ) -> None:
        """File a step of ``length`` cells and move past it."""
        end = self.at + length
        ended = self._ended(name)
        says = "; ".join(filter(None, (says, ended)))
        forms = tuple(sorted(self.forms)) if print_ else ()
        cells = self.cells[self.at : end]
        self.steps.append(Step(self.at, cells, name, print_, says, section, also, forms))
        self.at = end

    def _ended(self, name: str) -> str:
        """The modes that ended since the sign before, in words; a terminator names its own."""
        numeric, grade1, capitals, forms = self.last
        kept = frozenset(form for form, reach in self.forms.items() if reach != "symbol")
        mode = "passage" if self.passage1 else self.grade1
        self.last = (self.numeric, mode, self.capitals, kept)
        gone = ["numeric mode"] if numeric and not (self.numeric or self.number_passage) else []
        if grade1 not in ("", "next") and not (mode or self.number_passage):
            gone.append("grade 1 mode")
        if capitals in ("word", "passage") and self.capitals != capitals:
            gone.append("the capitals")
        gone += sorted(forms - kept)
        if not gone or name.endswith("terminator") or name == _CLOSING_NOTE:
            return ""
        whole = " and ".join(filter(None, (", ".join(gone[:-1]), gone[-1])))
        return f"{whole} {'have' if len(gone) > 1 or gone[0] == 'the capitals' else 'has'} ended"

    def indicate(self, name: str, says: str, length: int = 0) -> None:
        """File the indicator of that name in the table."""
        sign = tables.indicators()[name]
        self.put(length or len(sign.cells), name, "", says, sign.section)

    def here(self, length: int) -> str:
        return self.text[self.at : self.at + length]

    def ahead(self, name: str) -> bool:
        """Whether the indicator of that name stands here."""
        return self.text.startswith(tables.by_name(name), self.at)

    @property
    def contracting(self) -> bool:
        plain = self.grade1 or self.passage1 or self.number_passage
        return self.contracted and not plain

    def space(self) -> None:
        """One or more empty cells: the end of every mode but passages."""
        self.spend()
        length = len(self.text[self.at :]) - len(self.text[self.at :].lstrip(" "))
        self.forms = {name: reach for name, reach in self.forms.items() if reach == "passage"}
        self.bound()
        self.fresh, self.grade1 = True, ""
        self.put(length, "space", " " * length)

    def bound(self) -> None:
        """A space, hyphen or dash: a word may begin after it (UEB 2.6.1)."""
        self.open, self.joined = True, False
        self.numeric = False
        self.fresh = False
        if self.grade1 == "number":
            self.grade1 = ""
        if self.capitals != "passage":
            self.capitals = ""

    def spend(self) -> None:
        """Indicators of one sign are used up, which the sign tells."""
        used = ["grade 1"] if self.grade1 == "next" else []
        self.grade1 = "" if self.grade1 == "next" else self.grade1
        if not self.grouping:
            used += sorted(name for name, reach in self.forms.items() if reach == "symbol")
            self.forms = {name: reach for name, reach in self.forms.items() if reach != "symbol"}
        self.tell_used(used)

    def tell_used(self, used: list[str], of: str = "sign") -> None:
        """Say at the last sign which indicators were for it alone."""
        if not (used and self.steps and (self.steps[-1].print.strip() or of == "indicator")):
            return
        items = [f"the {name} ends" for name in used if name in _LEVELS]
        alone = [name for name in used if name not in _LEVELS]
        if alone:
            verb = "were" if len(alone) > 1 else "was"
            items.insert(0, f"{' and '.join(alone)} {verb} for this {of} only")
        says = "; ".join(filter(None, (self.steps[-1].says, *items)))
        self.steps[-1] = replace(self.steps[-1], says=says)

    # ------------------------------------------------------------ numbers (UEB 6)

    def number(self) -> bool:
        """A numeric indicator, or a digit inside a numeric passage."""
        if self.ahead("numeric passage indicator"):
            self.number_passage = True
            self.indicate("numeric passage indicator", "digits follow without numeric signs")
        elif self.number_passage and self.ahead("numeric terminator"):
            self.number_passage, self.grade1 = False, ""
            self.indicate("numeric terminator", "the numeric passage ends")
        elif self.number_passage and self._digit_next():
            self.numeric, self.grade1 = True, "number"
            self.in_number()
        elif re.match(r"#[14]*[a-j]", self.text[self.at : self.at + 4]):
            self.numeric, self.grade1 = True, "number"
            self.indicate("numeric indicator", "digits follow")
        elif re.match(r"# ", self.here(2)):
            self.indicate("numeric indicator", "spaces before the digits of a column")
        else:
            return False
        return True

    def _digit_next(self) -> bool:
        """Whether a digit stands here in a numeric passage: a letter has a sign before it."""
        letter = self.capitals or self.grade1 == "next"
        return not letter and self.here(1) in tables.digits()

    def in_number(self) -> bool:
        """A sign of numeric mode (UEB 6.2.1); ends the mode at any other."""
        cell, after = self.here(1), self.text[self.at + 1 : self.at + 2]
        digits = tables.digits()
        if cell in digits:
            self.put(1, "digit", digits[cell].print, "", digits[cell].section)
        elif cell in "14" and (after in digits or self.steps[-1].name == "numeric indicator"):
            name, print_ = ("comma in a number", ",") if cell == "1" else ("decimal point", ".")
            self.put(1, name, print_, "", "6.2.1")
        elif cell == "/" and (after in digits or self.text[self.at + 1 :].startswith("5#")):
            self.indicate_print("simple fraction line", FRACTION_SLASH)
        elif cell == '"' and after in digits:
            self.indicate_print("numeric space", "\u00a0")
        else:
            return False
        self.open, self.fresh, self.joined = False, False, False
        return True

    def indicate_print(self, name: str, print_: str) -> None:
        sign = tables.indicators()[name]
        self.put(len(sign.cells), name, print_, "", sign.section)

    # ------------------------------------------------------------ indicators

    def grade_1(self) -> bool:
        """Grade 1 indicators (UEB 5)."""
        if self.here(1) != ";" or (
            self.contracting
            and self.joined
            and self.here(2) in tables.contraction("final-letter groupsign")
        ):
            return False
        if self.ahead("grade 1 passage indicator"):
            self.passage1 = True
            self.indicate("grade 1 passage indicator", "no contractions until it ends")
        elif self.ahead("grade 1 word indicator"):
            self.grade1 = "word"
            self.indicate("grade 1 word indicator", "no contractions up to the next space")
        elif self.ahead("grade 1 terminator") and (self.passage1 or self.grade1):
            self.passage1, self.grade1 = False, ""
            self.indicate("grade 1 terminator", "contractions may follow again")
        else:
            self.grade1 = "next" if self.number_passage else self.grade1 or "next"
            self.indicate(
                "grade 1 symbol indicator", "the next sign is a letter or mark, no contraction"
            )
        return True

    def typeform(self) -> bool:
        """Typeform indicators (UEB 9) and transcriber's note marks (UEB 3.27)."""
        for length in (3, 2):
            row = tables.typeforms().get(self.here(length))
            if row and len(self.here(length)) == length:
                sign, form, reach = row
                says = {
                    "symbol": f"the next sign is {form}",
                    "word": f"{form} up to the next space",
                    "passage": f"{form} until it ends",
                    "end": f"{form} ends",
                }[reach]
                if form == "transcriber's note":
                    says = _NOTE[reach]
                if reach == "end":
                    self.forms.pop(form, None)
                else:
                    self.forms[form] = reach
                self.numeric = False
                self.grade1 = "" if self.grade1 == "number" else self.grade1
                if self.joined and reach != "end":
                    self.joined = False
                self.capitals = "" if self.capitals == "word" else self.capitals
                self.put(length, sign.name, "", says, sign.section)
                return True
        return False

    def capital(self) -> bool:
        """Capitals indicators (UEB 8); other signs that begin with dot 6 are left alone."""
        if self.here(1) != ",":
            return False
        if self.ahead("capitals terminator") and self.capitals:
            self.capitals = ""
            self.indicate("capitals terminator", "the capitals end")
        elif self.ahead("capitals passage indicator"):
            self.capitals = "passage"
            self.indicate("capitals passage indicator", "capital letters until they end")
        elif self.ahead("capitals word indicator"):
            self.capitals = "word"
            self.indicate("capitals word indicator", "the rest of the word is in capitals")
        elif self.capital_next():
            self.capitals = "passage" if self.capitals == "passage" else "next"
            self.indicate("capital letter indicator", "the next letter is a capital")
        else:
            return False
        return True

    def capital_next(self) -> bool:
        """Whether dot 6 here makes a capital letter rather than a sign of its own."""
        rest, two = self.at + 1, self.here(2)
        cell = two[1:]
        if two in (",8", ",0", ",7"):
            return self.contracting and self.fresh and words.bare(self.text, rest + 1)
        if two == ",-":
            return False
        if self.accent_at(rest) or self.letter_at(rest):
            return self.contracting or self.here(3) not in tables.prints()
        if not self.contracting:
            return cell in tables.letters()
        if cell in tables.starting():
            return words.letterish(self.text, rest + 1) or words.bare(self.text, rest + 1)
        return words.letterish(self.text, rest)

    def letter_at(self, at: int) -> Sign | None:
        """The letter of several cells (Greek, eth, stroked) that begins at ``at``."""
        for length in (3, 2):
            found = tables.prints().get(self.text[at : at + length])
            if found and found[0].kind == "letter":
                return found[0]
        return None

    def accent_at(self, at: int) -> int:
        """The cells of the modifiers at ``at`` that have a letter after them, or 0."""
        length = next((n for n in (3, 2) if self.text[at : at + n] in tables.modifiers()), 0)
        if not length:
            return 0
        after = self.text[at + length : at + length + 1]
        if after in tables.letters() or after == "<" or self.letter_at(at + length):
            return length
        more = self.accent_at(at + length)
        return length + more if more else 0
