"""Small changes to the inlines of a block: joining, enclosing in a note, dropping typeforms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..document.inlines import INITIAL_CAPITALS
from ..document.ledger import Ledger
from ..document.nodes import (
    BOLD,
    ITALIC,
    SCRIPT,
    SMALL_CAPS,
    TRANSCRIBER_NOTE,
    UNDERLINE,
    Added,
    AnswerSpace,
    Inline,
    InlineGraphic,
    Inlines,
    LineBreak,
    LineNumber,
    NoteCall,
    PrintPageTurn,
    Run,
    text_of,
)

# An added space this wide is three blank cells (BF 1.9, 14.1.5); see ``lines.widened``.
WIDE = "\u2003"
NUMBERED = "numbered-prose"
"""The style of paragraphs whose lines have numbers (BF 15)."""
_LONGEST_NAME = 4
"""Words of a name with its title."""
SHOWN = ITALIC | BOLD | UNDERLINE | SCRIPT | SMALL_CAPS


def shows(inline: Inline, ledger: Ledger) -> bool:
    """Whether an inline puts anything on the page."""
    match inline:
        case PrintPageTurn() | LineBreak():
            return False
        case Added(text=text):
            return bool(text.strip())
        case Run(start=start, end=end) | InlineGraphic(start=start, end=end):
            return bool(ledger.text[start:end].strip())
        case _:
            return True


def visible(runs: Inlines, ledger: Ledger) -> bool:
    """Whether any of the inlines puts something on the page."""
    return any(shows(run, ledger) for run in runs)


def enclose(runs: Inlines) -> Inlines:
    """The inlines as part of a transcriber's note (BF 3.1)."""
    return tuple(_enclosed(run) for run in runs)


def _enclosed(run: Inline) -> Inline:
    if isinstance(run, InlineGraphic):
        return Run(run.start, run.end, TRANSCRIBER_NOTE)
    if isinstance(run, Run | Added | NoteCall):
        return replace(run, typeform=run.typeform | TRANSCRIBER_NOTE)
    return run


def describe_graphics(runs: Inlines) -> Inlines:
    """Pictures inside a line become their alternative text, as an embedded note (BF 3.1.4)."""
    if not any(isinstance(run, InlineGraphic) for run in runs):
        return runs
    told = (run for run in runs if not isinstance(run, InlineGraphic) or run.end > run.start)
    return tuple(_enclosed(run) if isinstance(run, InlineGraphic) else run for run in told)


def take_long_descriptions(
    runs: Inlines, ledger: Ledger, most: int, words: str
) -> tuple[Inlines, list[Inline]]:
    """The inlines with ``words`` in a note for every picture whose alternative text has more than
    ``most`` words, and these texts, which stand alone (BF 3.1.4, 6.2)."""
    out: list[Inline] = []
    long: list[Inline] = []
    for run in runs:
        if isinstance(run, InlineGraphic) and len(ledger.text[run.start : run.end].split()) > most:
            long.append(Run(run.start, run.end))
            out += note(words)
        else:
            out.append(run)
    return (tuple(out), long) if long else (runs, long)


def name_choices(runs: Inlines, most: int) -> tuple[Inlines, list[str]]:
    """The entries of a drop-down list follow it, as an embedded note (BF 3.1.1); entries of
    more than ``most`` words are given back, to stand alone (BF 3.1.4)."""
    out: list[Inline] = []
    long: list[str] = []
    for run in runs:
        out.append(run)
        words = "; ".join(getattr(run, "choices", ()))
        if len(words.split()) > most:
            long.append(words)
        elif words:
            out += [Added(" "), Added(words, TRANSCRIBER_NOTE)]
    return tuple(out), long


def name_of(run: Inline, ledger: Ledger) -> str:
    """The words of a run as names are compared: without case and the marks around them."""
    if not isinstance(run, Run):
        return ""
    words = " ".join(ledger.text[run.start : run.end].split()).casefold()
    return words.strip(".,:;!?()[]\u2019's ") if words else ""


def plain_names(runs: Inlines, names: frozenset[str], ledger: Ledger, said: bool) -> Inlines:
    """Names of speakers have initial capitals only, whatever print uses (BF 14.1.2): small
    capitals are no reason for full ones.  In a speech (``said``) a name that stands upright inside
    a stage direction in italics makes no distinction: it is of the direction (BF 14.1.3)."""
    if not names or not any(isinstance(r, Run) and r.typeform for r in runs):
        return runs
    out = list(runs)
    for at, run in enumerate(runs):
        if isinstance(run, Run) and _names(run, names, ledger):
            form = run.typeform & ~SMALL_CAPS
            inside = said and not form and _inside_italics(runs, at, ledger)
            out[at] = replace(run, typeform=ITALIC if inside else form)
    return tuple(out)


def _names(run: Run, names: frozenset[str], ledger: Ledger) -> bool:
    """Whether a run is the name of a speaker, or ends in it after a title or a first name."""
    name = name_of(run, ledger)
    if name in names or not name:
        return name in names
    words = name.split()
    capitals = all(word[0].isupper() for word in ledger.text[run.start : run.end].split())
    known = (" ".join(words[at:]) in names for at in range(1, len(words)))
    return len(words) <= _LONGEST_NAME and capitals and any(known)


def _inside_italics(runs: Inlines, at: int, ledger: Ledger) -> bool:
    """Whether a run stands between italics, or between italics and the bracket that opens or
    closes them: a bracket may stand upright around words in italics."""
    if not 0 < at < len(runs) - 1:
        return False
    before, after = runs[at - 1], runs[at + 1]
    forms = [getattr(near, "typeform", 0) == ITALIC for near in (before, after)]
    opens = forms[0] or text_of((before,), ledger).endswith(("(", "["))
    closes = forms[1] or text_of((after,), ledger).startswith((")", "]"))
    return any(forms) and opens and closes


def with_initial_capitals(runs: Inlines) -> Inlines:
    """A speaker's name to be read with initial capitals only (BF 14.1.2)."""
    return tuple(
        replace(run, typeform=run.typeform | INITIAL_CAPITALS) if isinstance(run, Run) else run
        for run in runs
    )


def has_letters(run: Inline, ledger: Ledger) -> bool:
    """Whether a run of print holds a letter or a digit."""
    return isinstance(run, Run) and any(c.isalnum() for c in ledger.text[run.start : run.end])


def drop_typeforms(
    runs: Inlines, how: str, ledger: Ledger, names: frozenset[str] = frozenset()
) -> tuple[Inlines, int]:
    """The inlines without the typeforms a style ignores, and how many runs lost one (BF 5.3).

    ``how`` is ``keep``, ``drop`` (all of them) or ``whole``: only those that every letter of the
    item carries, as a typeform of a part makes a distinction.  Speakers' ``names`` standing
    upright among the rest make none (BF 14.1.3).  ``reverse`` is as ``whole``; where italics or
    bold type stand in nearly all of the item, its upright words take them instead.
    """
    off = SHOWN if how == "drop" else 0
    if how in ("whole", "reverse"):
        words = [run for run in runs if isinstance(run, Run) and shows(run, ledger)]
        lettered = [run for run in words if has_letters(run, ledger)] or words
        told = [run for run in lettered if not names or name_of(run, ledger) not in names]
        forms = [run.typeform for run in told or lettered]
        off = SHOWN if forms else 0
        for form in forms:
            off &= form
    if not off:
        return _reversed(runs, ledger) if how == "reverse" else (runs, 0)
    changed = 0
    out: list[Inline] = []
    for run in runs:
        if isinstance(run, Run | NoteCall) and run.typeform & off:
            changed += isinstance(run, Run)
            run = replace(run, typeform=run.typeform & ~off)
        out.append(run)
    return tuple(out), changed


def _reversed(runs: Inlines, ledger: Ledger) -> tuple[Inlines, int]:
    """Upright words marked and the others left plain where at least three letters of four are in
    italics or bold type (common practice, no numbered rule)."""
    words = [run for run in runs if isinstance(run, Run) and has_letters(run, ledger)]
    letters = sum(run.end - run.start for run in words)
    off = 0
    for form in (ITALIC, BOLD):
        wearing = sum(run.end - run.start for run in words if run.typeform & form)
        off |= form if letters and letters > wearing and 4 * wearing >= 3 * letters else 0
    if not off:
        return runs, 0
    out = tuple(_turned(run, off, ledger) for run in runs)
    return out, sum(new is not old for new, old in zip(out, runs, strict=True))


def _turned(run: Inline, off: int, ledger: Ledger) -> Inline:
    if isinstance(run, Run) and has_letters(run, ledger):
        return replace(run, typeform=run.typeform ^ off)
    if isinstance(run, Run | NoteCall) and run.typeform & off:
        return replace(run, typeform=run.typeform & ~off)
    return run


def spaced(before: Inlines, after: Inlines, ledger: Ledger, by: str = " ") -> Inlines:
    """Two groups of inlines as one, with exactly one space (or ``by``) between."""
    if not visible(before, ledger) or not visible(after, ledger):
        return (*before, *after)
    if text_of(_words_at(before, -1), ledger)[-1:].isspace():
        by = by.lstrip()
    if text_of(_words_at(after, 0), ledger)[:1].isspace():
        by = by.rstrip()
    return (*before, Added(by), *after) if by else (*before, *after)


def _words_at(runs: Inlines, end: int) -> Inlines:
    """The inlines, or none where room for an answer stands at the end of them that is asked for:
    the space that print has for it is not in the cells."""
    return () if isinstance(runs[end], AnswerSpace) else runs


def after_name(name: Inlines, words: Inlines, ledger: Ledger) -> Inlines:
    """A speaker's name and the words: three blank cells between where print has no mark after
    the name (BF 14.1.5), else one space.  ``WIDE`` stands for the three."""
    mark = text_of(name, ledger).rstrip()[-1:]
    if not mark.isalnum() or not visible(words, ledger):
        return spaced(name, words, ledger)
    return (*name, Added(WIDE), *words)


def entry_word(runs: Inlines, ledger: Ledger) -> bool:
    """Whether a paragraph of a glossary or a dictionary is an entry: its first word wears a
    typeform that the rest does not (BF 21.6; common practice)."""
    forms = [
        run.typeform & SHOWN for run in runs if isinstance(run, Run) and has_letters(run, ledger)
    ]
    return bool(forms) and forms[0] != 0 and any(form & forms[0] == 0 for form in forms)


def entry_words_upright(entries: Sequence[Inlines], ledger: Ledger) -> list[Inlines]:
    """The entries without the typeform that every entry word wears (BF 21.2.2): a typeform
    that only some wear is kept."""
    off = SHOWN
    for runs in entries:
        first = next((run for run in runs if has_letters(run, ledger)), None)
        off &= first.typeform if isinstance(first, Run) else 0
    if not off:
        return list(entries)
    return [_without(runs, off, ledger) for runs in entries]


def _without(runs: Inlines, off: int, ledger: Ledger) -> Inlines:
    out = list(runs)
    for at, run in enumerate(out):
        if isinstance(run, Run):
            if has_letters(run, ledger) and run.typeform & off != off:
                break
            out[at] = replace(run, typeform=run.typeform & ~off)
    return tuple(out)


def labelled(label: Inlines, entry: Inlines, ledger: Ledger) -> Inlines:
    """``label: entry``; the colon is added where print has no mark there."""
    ends = text_of(label, ledger).rstrip()[-1:]
    return spaced(label, entry, ledger, " " if ends in (":", "?", "") else ": ")


def copied(runs: Inlines, ledger: Ledger, form: int = 0) -> Inlines:
    """The words of some inlines once more, as added words: print has them, and the note marks
    among them, only once."""
    kept = tuple(run for run in runs if not isinstance(run, NoteCall))
    words = " ".join(text_of(kept, ledger).split())
    return (Added(words, form),) if words else ()


def note(words: str) -> Inlines:
    """Words of the program as a transcriber's note."""
    return (Added(words, TRANSCRIBER_NOTE),)


def numbers_apart(runs: Inlines, ledger: Ledger) -> Inlines:
    """The inlines with a space on both sides of a number that print has beside them."""
    if not any(type(run) is LineNumber for run in runs):
        return runs
    out: Inlines = ()
    for at, run in enumerate(runs):
        beside = type(run) is LineNumber or (at and type(runs[at - 1]) is LineNumber)
        out = spaced(out, (run,), ledger) if beside else (*out, run)
    return out


def span_of(runs: Inlines) -> tuple[int, int] | None:
    """The stretch of the ledger that some inlines cover."""
    spans = [(r.start, r.end) for r in runs if not isinstance(r, Added | LineBreak | PrintPageTurn)]
    return (min(s for s, _ in spans), max(e for _, e in spans)) if spans else None
