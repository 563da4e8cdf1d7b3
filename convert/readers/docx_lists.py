"""From a flat sequence of paragraphs to nested lists, boxes and set-off matter."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from ..document.nodes import (
    Block,
    Box,
    Displayed,
    DisplayMath,
    Graphic,
    InlineGraphic,
    Inlines,
    ListBlock,
    ListItem,
    MathRun,
    Run,
)


@dataclass(slots=True)
class Entry:
    """A paragraph (or another block) with what its neighbours must know.

    ``list_id``: the list it belongs to, ``""`` for none; ``level`` from 0; ``indent`` in
    twips; ``sign``: its bullet.  ``border``: the box it stands in.  ``role``: of the list or of
    the set-off matter.
    ``continues``: a further paragraph of the list item before it.
    """

    blocks: list[Block]
    address: str = ""
    list_id: str = ""
    level: int = 0
    indent: int = 0
    sign: str = ""
    kind: str = "plain"
    role: str = "body"
    marker: Inlines = ()
    border: str = ""
    displayed: str = ""
    continues: bool = False


@dataclass(slots=True)
class _Item:
    address: str
    marker: Inlines
    children: list[Block]


@dataclass(slots=True)
class _Frame:
    list_id: str
    level: int
    indent: int
    kind: str
    role: str
    address: str
    sign: str = ""
    items: list[_Item] = field(default_factory=list)

    def block(self) -> ListBlock:
        items = tuple(
            ListItem(
                children=tuple(item.children), marker=item.marker, address=f"{item.address}#item"
            )
            for item in self.items
        )
        return ListBlock(
            children=items, kind=self.kind, role=self.role, address=f"{self.address}#list"
        )


def group(entries: Iterable[Entry | Block]) -> tuple[Block, ...]:
    """The blocks of some entries: boxes first, then set-off matter and lists inside them.

    A block by itself is an ordinary paragraph, which belongs to nothing.
    """
    out: list[Block] = []
    boxed: list[Entry] = []
    border = ""
    for entry in entries:
        here = entry.border if isinstance(entry, Entry) else ""
        if boxed and (here != border or not isinstance(entry, Entry)):
            out.extend(_close_box(boxed, border))
            boxed = []
        border = here
        if isinstance(entry, Entry):
            boxed.append(entry)
        else:
            out.append(entry)
    out.extend(_close_box(boxed, border))
    return tuple(out)


def _close_box(entries: list[Entry], border: str) -> list[Block]:
    inner = _lists(entries)
    if border and inner:
        return [Box(children=tuple(inner), address=f"{entries[0].address}#box")]
    return inner


def _lists(entries: list[Entry]) -> list[Block]:
    out: list[Block] = []
    stack: list[_Frame] = []
    for entry in entries:
        if entry.continues and stack and stack[-1].items:
            stack[-1].items[-1].children.extend(entry.blocks)
        elif not entry.list_id:
            _close(stack, 0, out)
            _plain(entry, out)
        else:
            _go_on(stack, entry)
            _open(stack, entry, out)
            stack[-1].items.append(_Item(entry.address, entry.marker, list(entry.blocks)))
    _close(stack, 0, out)
    return out


def _plain(entry: Entry, out: list[Block]) -> None:
    last = out[-1] if out else None
    if not entry.displayed:
        out.extend(entry.blocks)
    elif isinstance(last, Displayed) and last.role == entry.displayed:
        joined = (*last.children, *entry.blocks)
        out[-1] = Displayed(children=joined, role=last.role, address=last.address)
    else:
        address = f"{entry.address}#displayed"
        out.append(Displayed(children=tuple(entry.blocks), role=entry.displayed, address=address))


def _go_on(stack: list[_Frame], entry: Entry) -> None:
    """A bullet like those of an open list, as far in, goes on with it: print shows one list where
    the file has several."""
    for frame in reversed(stack):
        like = (frame.sign, frame.indent, frame.role) == (entry.sign, entry.indent, entry.role)
        if entry.sign and like and frame.list_id != entry.list_id:
            entry.list_id, entry.level = frame.list_id, frame.level
            return


def _open(stack: list[_Frame], entry: Entry, out: list[Block]) -> None:
    """Leave the frames the entry does not belong to and open the one it begins, if any."""
    keep = len(stack)
    for at, frame in enumerate(stack):
        if frame.list_id == entry.list_id and frame.level >= entry.level:
            keep = at + 1 if frame.level == entry.level else at
            break
        other = frame.list_id != entry.list_id and frame.indent >= entry.indent
        if other or frame.role != entry.role:
            keep = at
            break
    _close(stack, keep, out)
    top = stack[-1] if stack else None
    if top is None or (top.list_id, top.level) != (entry.list_id, entry.level):
        stack.append(
            _Frame(
                entry.list_id, entry.level, entry.indent, entry.kind, entry.role, entry.address,
                entry.sign,
            )
        )  # fmt: skip


def _close(stack: list[_Frame], keep: int, out: list[Block]) -> None:
    while len(stack) > keep:
        block = stack.pop().block()
        if stack and stack[-1].items:
            stack[-1].items[-1].children.append(block)
        else:
            out.append(block)


# ---------------------------------------------------------------- paragraphs without words


def _numbered(address: str, at: int) -> str:
    return f"{address}#{at}" if at else address


def graphics(runs: Inlines, address: str) -> list[Block]:
    """The pictures of a paragraph that holds nothing else."""
    out: list[Block] = []
    for at, run in enumerate(runs):
        if isinstance(run, InlineGraphic):
            alt = (Run(run.start, run.end),) if run.end > run.start else ()
            out.append(Graphic(alt=alt, resource=run.resource, address=_numbered(address, at)))
    return out


def displays(runs: Inlines, address: str) -> list[Block]:
    """The expressions of a paragraph that holds nothing else."""
    out: list[Block] = []
    for at, run in enumerate(runs):
        if isinstance(run, MathRun):
            place = _numbered(address, at)
            out.append(DisplayMath(start=run.start, end=run.end, mathml=run.mathml, address=place))
    return out
