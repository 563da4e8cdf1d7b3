"""An expression as plain text on one line, for people who check braille against print.

Fractions, roots and scripts are shown by signs that everybody can type (``a/b``, ``x^2``, ``x_1``),
as print that is run together, such as 20 over 40 as “2040”, would mislead.  It is not for
translation: :mod:`convert.maths.typed` reads what people type.
"""

from __future__ import annotations

from functools import lru_cache

from ..errors import SourceError
from .render import read
from .tree import (
    INVISIBLE,
    Enclosed,
    Expression,
    Fraction,
    Grid,
    Line,
    Root,
    Row,
    Scripts,
    Sign,
    Space,
    Stack,
    Work,
)

Pairs = tuple[tuple[Expression | None, Expression | None], ...]
# Signs that print raises and that follow their base as they are.
_PRIMES = frozenset("′″‴'*†°")


@lru_cache(maxsize=4096)
def plain(source: str) -> str:
    """An expression in any form that :func:`convert.maths.render.render` reads, as plain text;
    empty where it cannot be read."""
    try:
        expression, _ = read(source)
    except SourceError:
        return ""
    return " ".join(_text(expression).split())


def _text(e: Expression) -> str:
    match e:
        case Sign():
            return "" if e.role == INVISIBLE else e.text
        case Space():
            return " "
        case Row():
            return _row(e)
        case Scripts():
            return f"{_scripts(e.before)}{_closed(e.base)}{_scripts(e.after)}"
        case Stack():
            return f"{_closed(e.base)}{_scripts(((e.under, e.over),))}"
        case Fraction() | Root() | Enclosed() | Grid() | Work():
            return _drawn(e)
        case Line():
            return "".join(_text(figure) for _, figure in e.entries)
        case _:
            return e.text


def _drawn(e: Fraction | Root | Enclosed | Grid | Work) -> str:
    """What print draws with lines, or sets in rows."""
    match e:
        case Fraction():
            between = " over " if e.style == "none" else "/"
            whole = f"{_closed(e.top)}{between}{_closed(e.bottom)}"
            return f"({whole})" if e.style == "none" else whole
        case Root():
            index = f"root {_text(e.index)} of " if e.index is not None else "√"
            return f"{index}{_closed(e.body)}"
        case Enclosed():
            return f"{_closed(e.body)} ({', '.join(e.notations)})"
        case Grid():
            rows = [", ".join(map(_text, entries)) for entries in e.rows]
            return f"[{'; '.join(rows)}]"
        case Work():
            return _work(e)


def _row(e: Row) -> str:
    out = ""
    before: Expression | None = None
    for child in e.children:
        text = _text(child)
        # The fraction of a mixed number stands apart, and so does what follows a script.
        mixed = isinstance(child, Fraction) and out[-1:].isdigit()
        after_script = isinstance(before, Scripts | Stack) and text[:1].isalnum()
        out += f" {text}" if mixed or after_script else text
        before = child
    return out


def _closed(e: Expression) -> str:
    """In parentheses where the text would be taken apart without them."""
    text = _text(e)
    single = not isinstance(e, Row | Fraction | Scripts | Stack)
    return text if single or len(text) < 2 else f"({text})"


def _scripts(pairs: Pairs) -> str:
    out = ""
    for low, high in pairs:
        out += f"_{_closed(low)}" if low is not None else ""
        if high is not None:
            text = _text(high)
            out += text if text and set(text) <= _PRIMES else f"^{_closed(high)}"
    return out


def _work(e: Work) -> str:
    lines = []
    for line in e.lines:
        figures = sorted(line.entries, key=lambda entry: -entry[0])
        text = "".join([*map(_text, line.lead), *(_text(figure) for _, figure in figures)])
        if text:
            lines.append(text)
    start = f"{_text(e.divisor)} into " if e.divisor is not None else ""
    return start + "; ".join(lines)
