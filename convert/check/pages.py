"""Load finished pages: volumes with their trace from a folder, or BRF files made by anybody."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from ..errors import SourceError, why
from ..translation.cells import ascii_of
from .files import DEFAULT, divide, guess, read, without_ends, without_feeds
from .guessed import begins_late, guess_blocks
from .model import BRAILLE_NUMBER, PAGE_NUMBER, Book, Line, Page, build_blocks, find_turns
from .numbers import is_roman

_VOLUME = re.compile(r"\.v(\d+)\.brf$", re.I)
_EXTRA = "{} below the braille page number of every page {} not counted."
_LATER = (
    "The body begins at braille page {}, as in a later volume. Give the volumes before it too, "
    "in order, to have the count of pages checked from 1."
)
_DIGITS = str.maketrans("abcdefghij", "1234567890")


def load(paths: Sequence[Path], page: tuple[int, int] | None = None) -> tuple[Book, list[str]]:
    """The pages of one folder, or of some BRF files taken as volumes in the order given; also
    sentences about what had to be assumed.  ``page``: cells and lines.

    Raises SourceError where nothing can be read.
    """
    if len(paths) == 1 and paths[0].is_dir():
        return _load_folder(paths[0], page)
    return _load_files(paths, page)


def _load_folder(folder: Path, page: tuple[int, int] | None) -> tuple[Book, list[str]]:
    files = sorted(
        (int(m[1]), file) for file in folder.iterdir() if (m := _VOLUME.search(file.name))
    )
    if not files:
        found = sorted(file for file in folder.iterdir() if file.suffix.lower() == ".brf")
        return _load_files(found, page, folder)
    options = _options(folder / "recipe.json")
    trace = folder / "trace.jsonl"
    if not trace.is_file():
        book, notes = _load_files([file for _, file in files], page or _size(options))
        notes.append("The folder has no trace, so only what the pages show was checked.")
        return book, notes
    volumes = [divide(read(file)) for _, file in files]
    rows = _read_trace(trace)
    size = page or _size(options)
    depth = size[1] if size else _deepest(rows)
    width = size[0] if size else _widest(volumes, rows)
    book = Book(width, depth, [], traced=True, convention=str(options.get("convention") or ""))
    book.code = str(options.get("code") or book.code)
    book.volumes = [
        [Page(number, at, lines, depth) for at, lines in enumerate(pages, 1)]
        for number, pages in enumerate(volumes, 1)
    ]
    _join_trace(book, rows, trace)
    return finish(book), _differences(book)


def _differences(book: Book) -> list[str]:
    """Say where the braille files are not what the trace tells."""
    for page in book.pages():
        for at, (row, text) in enumerate(zip(page.rows, page.text, strict=False)):
            if text and not row.startswith(text):
                return [
                    f"The braille files are not what the trace tells, first in volume "
                    f"{page.volume}, page {page.ordinal}, line {at + 1}: were they changed by "
                    "hand? Checks that need the trace were made on the trace."
                ]
    return []


def _load_files(
    paths: Sequence[Path], page: tuple[int, int] | None, folder: Path | None = None
) -> tuple[Book, list[str]]:
    names = [path.name for path in paths]
    volumes = [divide(read(path)) for path in paths]
    if not volumes:
        raise SourceError(
            f"{folder} holds no braille files.",
            "Name the folder of one converted document, or BRF files.",
        )
    volumes, notes = without_feeds(volumes, names, page[1] if page else None)
    if page is None:
        volumes, extra = without_ends(volumes)
        if extra:
            one = extra == 1
            lines = "An empty line" if one else f"{extra} empty lines"
            notes.append(_EXTRA.format(lines, "was" if one else "were"))
        page = guess(volumes)
        notes.append(
            f"The page size was taken from the lines: {page[0]} cells by {page[1]} lines. "
            "If that is wrong, say it with --page."
        )
    book = Book(page[0], page[1], [])
    book.volumes = [
        [Page(number, at, lines, page[1]) for at, lines in enumerate(pages, 1)]
        for number, pages in enumerate(volumes, 1)
    ]
    for leaf in book.pages():
        _furniture(leaf, book.width)
    _running_heads(book)
    if before := begins_late(book):
        notes.append(_LATER.format(before + 1))
    return finish(book), notes


def finish(book: Book) -> Book:
    """Fill short pages with blank lines and find blocks and page change lines."""
    for page in book.pages():
        page.given = len(page.rows)
        page.rows += [""] * (book.depth - len(page.rows))
        page.text += [""] * (book.depth - len(page.text))
        for at, row in enumerate(page.rows):
            if row and row[-1] == " ":
                book.padded.append((page, at))
                page.rows[at] = row.rstrip()
        page.width = book.width
        page.measure()
    if book.traced:
        build_blocks(book)
    else:
        find_turns(book)
        guess_blocks(book)
    return book


def _options(recipe: Path) -> dict[str, object]:
    try:
        options = json.loads(recipe.read_text("utf-8")).get("options", {})
    except (OSError, ValueError, AttributeError):
        return {}
    return options if isinstance(options, dict) else {}


def _size(options: dict[str, object]) -> tuple[int, int] | None:
    cells, lines = options.get("cells"), options.get("lines")
    if isinstance(cells, int) and isinstance(lines, int) and cells > 0 and lines > 0:
        return cells, lines
    return None


def _deepest(rows: list[dict[str, object]]) -> int:
    """The page depth: the last line that the trace tells of."""
    numbers = [number for row in rows if isinstance(number := row.get("line"), int)]
    return max(numbers, default=DEFAULT[1])


def _widest(volumes: list[list[list[str]]], rows: list[dict[str, object]]) -> int:
    """The page width: where braille page numbers end."""
    feet = Counter(len(str(row["foot"])) for row in rows if row.get("foot"))
    return feet.most_common(1)[0][0] if feet else guess(volumes)[0]


def _read_trace(path: Path) -> list[dict[str, object]]:
    try:
        text = path.read_text("utf-8")
        rows = json.loads("[" + ",".join(text.rstrip("\n").split("\n")) + "]") if text else []
    except (OSError, ValueError) as error:
        raise SourceError(
            f"{path} cannot be read: {why(error)}.",
            "Convert the document again, or remove the trace to check the pages alone.",
        ) from error
    return [row for row in rows if isinstance(row, dict)]


def _join_trace(book: Book, rows: list[dict[str, object]], path: Path) -> None:
    """Give each page its lines of the trace."""
    by_place = {(page.volume, page.ordinal): page for page in book.pages()}
    page = None
    joined = "\n".join(str(row.get("cells") or "").replace("\n", " ") for row in rows)
    for row, cells in zip(rows, ascii_of(joined).split("\n"), strict=True):
        place = (row.get("volume"), row.get("page"))
        if page is None or place != (page.volume, page.ordinal):
            page = by_place.get(place)  # type: ignore[arg-type]
        if page is None:
            raise SourceError(
                f"{path} tells of volume {place[0]}, page {place[1]}, which the braille files "
                "do not have.",
                "Convert the document again.",
            )
        try:
            put_line(page, row, cells.rstrip(), book.width)
        except (KeyError, TypeError, ValueError) as error:
            raise SourceError(
                f"{path} has a line about volume {page.volume}, page {page.ordinal} that cannot be "
                f"understood: {error}.",
                "Convert the document again.",
            ) from error
    if lacking := next((page for page in book.pages() if len(page.lines) < book.depth), None):
        raise SourceError(
            f"{path} does not tell of volume {lacking.volume}, page {lacking.ordinal} in full.",
            "Convert the document again.",
        )


def put_line(page: Page, row: dict[str, object], cells: str, width: int) -> None:
    """Add one line of the trace to its page; ``cells`` is its text as ASCII braille."""
    if not page.lines:
        page.series, page.label = str(row["series"]), str(row["braille_page"])
        page.print_page = row.get("print_page")  # type: ignore[assignment]
        page.asked = bool(row.get("asked"))
        set_head(page, ascii_of(str(row.get("head") or "")), width)
    if row.get("foot"):
        page.foot = ascii_of(str(row["foot"])).split()[-1]
    page.lines.append(
        Line(
            str(row["kind"]),
            row.get("element"),  # type: ignore[arg-type]
            int(row.get("level") or 0),  # type: ignore[call-overload]
            int(row.get("levels") or 0),  # type: ignore[call-overload]
            str(row.get("part") or "first"),
            str(row.get("style") or ""),
            cells,
            row.get("print_page"),  # type: ignore[arg-type]
        )
    )
    page.text.append(cells)


def set_head(page: Page, head: str, width: int) -> None:
    """Divide line 1's furniture into running head and print page number; on a page of print what
    ends in the last cell is its number, also in words."""
    head = head.rstrip()
    words = head.split("   ")
    last = words[-1].strip()
    edge = page.print_page is not None and len(head) == width
    if len(head) - len(head.lstrip()) >= width // 2 or (edge and last == head.strip()):
        page.number = head.strip()
        return
    numbered = edge or (len(head) >= width - 1 and PAGE_NUMBER.search(last) is not None)
    if len(words) > 1 and last and numbered:
        page.number = last
        head = head[: -len(last)]
    page.head = head.strip()


def _furniture(page: Page, width: int) -> None:
    """Find the page numbers of a page that has no trace."""
    rows = [row.rstrip() for row in page.rows]
    page.text = list(rows)
    if not rows:
        return
    if len(rows) >= page.depth:
        _foot(page, rows[page.depth - 1])
    page.series = page.foot[:1] if page.foot[:1] in ("t", "p") else "body" if page.foot else ""
    page.label = _print_label(page.foot) if page.foot else ""
    found = PAGE_NUMBER.search(rows[0])
    apart = found is not None and found.start(1) >= width // 2
    if found and "#" not in found[1]:  # Letters are a number only at the very edge.
        apart = apart and len(rows[0]) == width and _is_roman(found[1])
    if found and apart and _stands_alone(rows[0], found.start(1)) and page.series != "t":
        page.number = found[1]
        page.text[0] = rows[0][: found.start(1)].rstrip()


def _foot(page: Page, row: str) -> None:
    found = BRAILLE_NUMBER.search(row)
    if found:
        page.foot = found[1]
        words = row[: found.start(1)].rstrip()
        above = page.rows[page.depth - 3 : page.depth - 1]
        # Words far below the text are no text, but guide words (BF 21.3).
        guides = found[1][:1] != "t" and words[:3] == "   "
        guides = guides and not any(line.strip() for line in above)
        page.text[page.depth - 1] = "" if guides else words


def _is_roman(cells: str) -> bool:
    """Whether letters are a roman page number, behind continuation letters or not."""
    letters = cells.lstrip(";,")
    return any(is_roman(letters[at:]) for at in range(min(3, len(letters))))


def _stands_alone(row: str, at: int) -> bool:
    """Whether a number is set apart from text before it."""
    before = row[:at].rstrip()
    return not before or at - len(before) >= 3


def _print_label(foot: str) -> str:
    prefix, _, digits = foot.lstrip(";").partition("#")
    return prefix + digits.translate(_DIGITS)


def _running_heads(book: Book) -> None:
    """Take what stands centred on line 1 of most pages for the running head."""
    for volume in book.volumes:
        tops = (page.text[0] for page in volume if page.text)
        # No line from cell 1, so no box line, and no beginning of a transcriber's note.
        lines = Counter(top.strip() for top in tops if top[:1] == " " and "@." not in top)
        head, count = lines.most_common(1)[0] if lines else ("", 0)
        if count > 2 and count * 2 > len(volume):
            for page in volume:
                if page.text and page.text[0].strip() == head:
                    page.head, page.text[0] = head, ""
