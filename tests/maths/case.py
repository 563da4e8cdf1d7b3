"""Cells of expressions in a form tests can read: North American ASCII braille."""

from __future__ import annotations

from convert.maths.cells import MathCells
from convert.maths.render import render

ORDER = " A1B'K2L@CIF/MSP\"E3H9O6R^DJG>NTQ,*5<-U8V.%[$+X!&;:4\\0Z7(_?W]#Y)="
TO_ASCII = {0x2800 + n: char for n, char in enumerate(ORDER.lower())}
FOLD = str.maketrans("`~|{}", "@^\\[]")


def ascii_cells(cells: str) -> str:
    return cells.translate(TO_ASCII)


def math(inside: str) -> str:
    return f'<math xmlns="http://www.w3.org/1998/Math/MathML">{inside}</math>'


def made(inside: str, code: str = "ueb") -> MathCells:
    return render(math(inside), code)


def ueb(inside: str) -> str:
    """The cells of MathML, in ASCII braille; there may be no problem."""
    found = made(inside)
    assert found.problems == ()
    return ascii_cells(found.cells)


def mi(text: str) -> str:
    return f"<mi>{text}</mi>"


def mn(text: str | int) -> str:
    return f"<mn>{text}</mn>"


def mo(text: str) -> str:
    return f"<mo>{text}</mo>"


def row(*inside: str) -> str:
    return f"<mrow>{''.join(inside)}</mrow>"


def sup(base: str, *above: str) -> str:
    return f"<msup>{base}{row(*above)}</msup>"


def sub(base: str, *below: str) -> str:
    return f"<msub>{base}{row(*below)}</msub>"


def over(base: str, *above: str) -> str:
    return f"<mover>{base}{row(*above)}</mover>"


def under(base: str, *below: str) -> str:
    return f"<munder>{base}{row(*below)}</munder>"


def frac(top: str, bottom: str) -> str:
    return f"<mfrac>{row(top)}{row(bottom)}</mfrac>"


def sqrt(*inside: str) -> str:
    return f"<msqrt>{''.join(inside)}</msqrt>"
