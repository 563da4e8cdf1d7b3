"""What a run changed since the run before it: braille pages, lines and findings.

Pages are compared by their cells, without the braille page number: a page that only moved on is
``renumbered``, not changed.  The old side is read from the earlier run's trace and report, so
any two runs can be compared, whatever made them differ.
"""

from __future__ import annotations

import json
from bisect import bisect_left
from collections import Counter, defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

BLANK = "\u2800"
SAME, RENUMBERED, CHANGED, NEW, GONE, MOVED = (
    "same", "renumbered", "changed", "new", "gone", "moved",
)  # fmt: skip
Pairs = list[tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A braille page: volume (from 1), page number as printed, the cells of each line without
    furniture, the furniture, and a function from a line (from 1) to its print."""

    volume: int
    page: str
    lines: tuple[str, ...]
    head: str
    foot: str
    said: Callable[[int], str] = field(compare=False, repr=False)

    @property
    def place(self) -> tuple[int, str]:
        """Volume and page number."""
        return self.volume, self.page

    def content(self) -> Hashable:
        """All cells but the braille page number, which is the last word of the last line."""
        return self.lines, self.head, self.foot.rstrip(BLANK).rpartition(BLANK)[0].strip(BLANK)


@dataclass(frozen=True, slots=True)
class LineChange:
    """A line that is ``new``, ``moved`` or ``gone``.  ``line`` is where it stands now; for a
    line that is gone the one before which it stood.  ``was`` is volume, page and line."""

    state: str
    line: int
    cells: str
    text: str
    was: tuple[int, str, int] | None = None


@dataclass(frozen=True, slots=True)
class PageChange:
    """A page that is not as it was.  ``place`` is none for a page that is gone, ``was`` for a
    new one.  A ``renumbered`` page lists no lines."""

    state: str
    place: tuple[int, str] | None
    was: tuple[int, str] | None
    lines: tuple[LineChange, ...] = ()

    def count(self, state: str) -> int:
        """How many of its lines are in a state."""
        return sum(line.state == state for line in self.lines)


@dataclass(frozen=True, slots=True)
class PageChanges:
    """Every page that differs, in the order of the braille, and how many do not."""

    pages: tuple[PageChange, ...] = ()
    same: int = 0

    def of(self, *states: str) -> list[PageChange]:
        """The pages in some states."""
        return [page for page in self.pages if page.state in states]


def compare_pages(old: Sequence[Sheet], new: Sequence[Sheet]) -> PageChanges:
    """Compare two runs page by page, each page with the one it came from."""
    kept = common([sheet.content() for sheet in old], [sheet.content() for sheet in new])
    pages: list[PageChange] = []
    same = at_old = at_new = 0
    for i, j in [*kept, (len(old), len(new))]:
        pages += _between(old[at_old:i], new[at_new:j])
        at_old, at_new = i + 1, j + 1
        if j == len(new):
            break
        if old[i].place == new[j].place:
            same += 1
        else:
            pages.append(PageChange(RENUMBERED, new[j].place, old[i].place))
    return PageChanges(tuple(pages), same)


# ---------------------------------------------------------------- what two rows have in common


def common(old: Sequence[Hashable], new: Sequence[Hashable]) -> Pairs:
    """A longest common subsequence, as pairs of positions (Hunt and Szymanski, 1977)."""
    head, tail = _ends(old, new)
    pairs: Pairs = [(at, at) for at in range(head)]
    where: dict[Hashable, list[int]] = defaultdict(list)
    for at in range(head, len(old) - tail):
        where[old[at]].append(at)
    least: list[int] = []
    chains: list[tuple[int, int, object]] = []
    for j in range(head, len(new) - tail):
        for i in reversed(where.get(new[j], ())):
            length = bisect_left(least, i)
            chain = (i, j, chains[length - 1] if length else None)
            least[length : length + 1] = [i]
            chains[length : length + 1] = [chain]
    middle: Pairs = []
    link: object = chains[-1] if chains else None
    while isinstance(link, tuple):
        middle.append((link[0], link[1]))
        link = link[2]
    pairs += reversed(middle)
    return pairs + [(len(old) - at, len(new) - at) for at in range(tail, 0, -1)]


def _ends(old: Sequence[Hashable], new: Sequence[Hashable]) -> tuple[int, int]:
    """How many are equal at the beginning, and then at the end."""
    most = min(len(old), len(new))
    head = 0
    while head < most and old[head] == new[head]:
        head += 1
    tail = 0
    while tail < most - head and old[-1 - tail] == new[-1 - tail]:
        tail += 1
    return head, tail


def anchored(old: Sequence[Hashable], new: Sequence[Hashable]) -> Pairs:
    """Pairs of equal members in order: those that occur once in each, and equal neighbours of
    these.  Quick for long rows with many repeats; not always the longest."""
    head, tail = _ends(old, new)
    stop_old, stop_new = len(old) - tail, len(new) - tail
    seen = Counter(old[head:stop_old]), Counter(new[head:stop_new])
    once = {key for key, times in seen[0].items() if times == 1 == seen[1][key]}
    mine = [at for at in range(head, stop_old) if old[at] in once]
    yours = [at for at in range(head, stop_new) if new[at] in once]
    anchors = common([old[at] for at in mine], [new[at] for at in yours])
    pairs: Pairs = [(at, at) for at in range(head)]
    from_old = from_new = head
    for i, j in [*((mine[a], yours[b]) for a, b in anchors), (stop_old, stop_new)]:
        first, last = _ends(old[from_old:i], new[from_new:j])
        pairs += [(from_old + at, from_new + at) for at in range(first)]
        pairs += [(i - at, j - at) for at in range(last, 0, -1)]
        if j < stop_new:
            pairs.append((i, j))
        from_old, from_new = i + 1, j + 1
    return pairs + [(len(old) - at, len(new) - at) for at in range(tail, 0, -1)]


# ---------------------------------------------------------------- pages between two kept ones


def _between(old: Sequence[Sheet], new: Sequence[Sheet]) -> Iterator[PageChange]:
    """Pages of which none is as it was: each with the old page it shares most lines with."""
    rows_old, rows_new = _lines(old), _lines(new)
    pairs = anchored([cells for _, _, cells in rows_old], [cells for _, _, cells in rows_new])
    shared = Counter((rows_old[i][0], rows_new[j][0]) for i, j in pairs)
    partner = _partners(shared, old, new)
    lines = _line_changes(old, new, rows_old, rows_new, pairs, partner)
    for at, sheet in enumerate(new):
        mine = partner.get(at)
        state, was = (NEW, None) if mine is None else (CHANGED, old[mine].place)
        yield PageChange(state, sheet.place, was, tuple(lines[at]))
    left = set(range(len(old))) - set(partner.values())
    stay = lines[-1]
    for at in sorted(left):
        mine_gone = tuple(line for line in stay if line.was and line.was[:2] == old[at].place)
        yield PageChange(GONE, None, old[at].place, mine_gone)


def _lines(sheets: Sequence[Sheet]) -> list[tuple[int, int, str]]:
    """The lines with cells: position of the sheet, line from 1, cells."""
    return [
        (at, number, cells)
        for at, sheet in enumerate(sheets)
        for number, cells in enumerate(sheet.lines, 1)
        if cells
    ]


def _partners(
    shared: Counter[tuple[int, int]], old: Sequence[Sheet], new: Sequence[Sheet]
) -> dict[int, int]:
    """For new sheets the old one each came from: most lines in common, else the same number."""
    partner: dict[int, int] = {}
    taken: set[int] = set()
    numbers = {sheet.place: at for at, sheet in enumerate(old)}
    rows = [pair for pair, _ in sorted(shared.items(), key=lambda row: (-row[1], row[0]))]
    rows += [(numbers[s.place], at) for at, s in enumerate(new) if s.place in numbers]
    for i, j in rows:
        if i not in taken and j not in partner:
            partner[j] = i
            taken.add(i)
    return partner


def _line_changes(
    old: Sequence[Sheet],
    new: Sequence[Sheet],
    rows_old: list[tuple[int, int, str]],
    rows_new: list[tuple[int, int, str]],
    pairs: Pairs,
    partner: dict[int, int],
) -> dict[int, list[LineChange]]:
    """The changed lines of each new sheet; under -1 all lines that are gone."""
    out: dict[int, list[LineChange]] = defaultdict(list)
    from_old = from_new = 0
    for i, j in [*pairs, (len(rows_old), len(rows_new))]:
        at, line = _next_place(rows_new, from_new, new)
        for sheet, number, cells in rows_old[from_old:i]:
            was = (*old[sheet].place, number)
            gone = LineChange(GONE, line, cells, old[sheet].said(number), was)
            out[-1].append(gone)
            out[at].append(gone)
        for sheet, number, cells in rows_new[from_new:j]:
            out[sheet].append(LineChange(NEW, number, cells, new[sheet].said(number)))
        if j < len(rows_new):
            (sheet, number, cells), (before, line_before, _) = rows_new[j], rows_old[i]
            if partner.get(sheet) != before or number != line_before:
                was = (*old[before].place, line_before)
                out[sheet].append(LineChange(MOVED, number, cells, "", was))
        from_old, from_new = i + 1, j + 1
    return out


def _next_place(rows: list[tuple[int, int, str]], at: int, new: Sequence[Sheet]) -> tuple[int, int]:
    """Sheet and line of a row, or the end of the last sheet where there is none."""
    if at < len(rows):
        return rows[at][0], rows[at][1]
    return (len(new) - 1, len(new[-1].lines) + 1) if new else (-2, 0)


# ---------------------------------------------------------------- an earlier run's files


def sheets_in(trace: Path) -> list[Sheet]:
    """The pages of a trace.  Raises OSError or ValueError if it cannot be read."""
    pages: dict[tuple[int, int], list[dict[str, object]]] = {}
    with trace.open(encoding="utf-8") as file:
        for line in file:
            row = json.loads(line)
            pages.setdefault((row["volume"], row["page"]), []).append(row)
    return [_sheet(rows) for rows in pages.values()]


def _sheet(rows: list[dict[str, object]]) -> Sheet:
    texts = [str(row.get("text", "")) for row in rows]
    return Sheet(
        int(str(rows[0]["volume"])),
        str(rows[0]["braille_page"]),
        tuple(str(row["cells"]) for row in rows),
        str(rows[0].get("head", "")),
        str(rows[-1].get("foot", "")),
        lambda line: texts[line - 1],
    )


@dataclass(frozen=True, slots=True)
class FindingChanges:
    """Findings as they stand in ``report.json``: those only in the new run, those only in the
    old one, and those of both that a decision settled since."""

    new: tuple[dict[str, object], ...] = ()
    gone: tuple[dict[str, object], ...] = ()
    settled: tuple[dict[str, object], ...] = ()


def compare_findings(
    old: Iterable[dict[str, object]], new: Iterable[dict[str, object]]
) -> FindingChanges:
    """Compare the findings of two runs by their ids."""
    before = {str(row["id"]): row for row in old}
    after = {str(row["id"]): row for row in new}
    return FindingChanges(
        tuple(row for key, row in after.items() if key not in before),
        tuple(row for key, row in before.items() if key not in after),
        tuple(
            row
            for key, row in after.items()
            if key in before and row["severity"] == "told" != before[key]["severity"]
        ),
    )
