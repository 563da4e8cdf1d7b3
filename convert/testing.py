"""Contract tests for plugin authors: subclass, name your plugin, give samples, inherit the tests.

    from convert.testing import ReaderContract

    class TestLinesReader(ReaderContract):
        name = "lines"
        samples = (Path("tests/poem.lines"),)
        hostile = (Path("tests/not-text.lines"),)

Each class needs pytest to run it, and nothing else.  ``name`` is the entry-point name, so the
tests go through the same door as the program.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from . import plugins
from .document.ledger import BREAK, Piece
from .document.nodes import Document, inlines_of, walk
from .errors import ConvertError
from .findings import Findings
from .settings import Settings

if TYPE_CHECKING:
    from .translation.cells import Cells
    from .translation.passage import Passage


def covered(document: Document) -> bytearray:
    """1 for each ledger character that a run, a mark, an omission or a break accounts for."""
    state = bytearray(len(document.ledger.text))

    def mark(start: int, end: int) -> None:
        state[start:end] = b"\x01" * (end - start)

    for node in walk(document):
        for item in (*inlines_of(node), *getattr(node, "number", ()), node):
            start, end = getattr(item, "start", None), getattr(item, "end", None)
            if isinstance(start, int) and isinstance(end, int):
                mark(start, end)
    for omission in document.omissions:
        mark(omission.start, omission.end)
    for piece in document.ledger.pieces:
        if piece.kind == BREAK:
            mark(piece.start, piece.end)
    return state


def uncovered(document: Document) -> list[str]:
    """The stretches of print, white space aside, that nothing in the tree accounts for."""
    state, text = covered(document), document.ledger.text
    gaps: list[str] = []
    at = state.find(0)
    while at >= 0:
        end = state.find(1, at)
        end = len(state) if end < 0 else end
        if text[at:end].strip():
            gaps.append(text[at:end])
        at = state.find(0, end)
    return gaps


class ReaderContract:
    """What every reader must keep.  Set ``name``, ``samples`` and, if you can, ``hostile``."""

    name: ClassVar[str]
    samples: ClassVar[tuple[Path, ...]] = ()
    hostile: ClassVar[tuple[Path, ...]] = ()

    def _read(self, path: Path) -> tuple[Document, Findings]:
        from .readers.container import open_source

        findings = Findings()
        reader = plugins.load("convert.readers", self.name)
        return reader(open_source(path), Settings(), findings), findings

    def test_there_are_samples(self) -> None:
        assert self.samples, "give at least one sample"

    def test_every_print_character_is_in_the_tree(self) -> None:
        for path in self.samples:
            document, _ = self._read(path)
            assert uncovered(document) == [], path.name

    def test_the_ledger_is_whole(self) -> None:
        for path in self.samples:
            ledger = self._read(path)[0].ledger
            assert [p.start for p in ledger.pieces] == _starts_due(ledger.pieces), path.name

    def test_reading_twice_gives_the_same(self) -> None:
        for path in self.samples:
            first, second = self._read(path)[0], self._read(path)[0]
            assert first.ledger.text == second.ledger.text
            assert first.children == second.children

    def test_hostile_files_are_refused_in_a_sentence(self) -> None:
        for path in self.hostile:
            said = self._refusal(path)
            assert said.endswith((".", "?")), f"{path.name}: {said or 'it was read'}"

    def _refusal(self, path: Path) -> str:
        try:
            self._read(path)
        except ConvertError as error:
            return str(error).rstrip()
        return ""


def _starts_due(pieces: Iterable[Piece]) -> list[int]:
    """Where each piece must start: at the end of the one before it."""
    return [0, *(piece.end for piece in pieces)][:-1]


# Print that a translator must take: numbers, capitals, invisible and combining characters,
# other scripts, nested quotation marks, nothing.
ODD = (
    "plain words",
    "3 cats, 10:30",
    "ABC Def gHI",
    "a\u200bb\u200dc \u0301",
    "日本 \U0001f600 \ufffd ",
    "(“‘nested’”) — … ½ x²",
    "",
    " ",
)


class TranslatorContract:
    """What every translator must keep.  Set ``name`` (and ``code`` if it takes a table)."""

    name: ClassVar[str]
    code: ClassVar[str] = ""
    texts: ClassVar[tuple[str, ...]] = ODD

    def _passages(self) -> Iterator[tuple[Passage, Cells]]:
        from .translation.passage import Passage

        settings = Settings(code=self.code or self.name)
        translator = plugins.load("convert.translators", self.name)(settings)
        passages = [Passage(text) for text in self.texts]
        translator.prepare(passages)
        for passage in passages:
            yield passage, translator.translate(passage, Findings())

    def test_only_six_dot_cells(self) -> None:
        for passage, cells in self._passages():
            assert all(0x2800 <= ord(cell) <= 0x283F for cell in str(cells)), passage

    def test_every_visible_character_is_claimed_by_a_piece(self) -> None:
        for passage, cells in self._passages():
            text = passage.text
            claimed = bytearray(len(text))
            for piece, at in zip(cells.pieces, cells.prints, strict=True):
                claimed[at : at + piece.length] = b"\x01" * piece.length
            gap = "".join(ch for ch, seen in zip(text, claimed, strict=True) if not seen)
            assert not gap.strip(), (text, gap)

    def test_origins_are_places_of_the_print(self) -> None:
        for passage, cells in self._passages():
            length = len(passage.text)
            assert len(cells.origin) == len(str(cells))
            assert all(-1 <= at <= length for at in cells.origin)

    def test_translating_twice_gives_the_same(self) -> None:
        once = [str(cells) for _, cells in self._passages()]
        assert once == [str(cells) for _, cells in self._passages()]


class ConventionContract:
    """What every convention must keep.  Set ``name``."""

    name: ClassVar[str]

    def test_it_loads(self) -> None:
        from .layout.convention import load

        convention = load(self.name)
        assert convention.page.cells > 0
        assert convention.page.lines > 0


class WriterContract:
    """What every writer must keep.  Set ``name``; ``source`` is a document to convert."""

    name: ClassVar[str]
    source: ClassVar[Path]

    def _write(self, folder: Path) -> dict[str, bytes]:
        from .api import convert

        edition = convert(self.source, code="ueb-uncontracted")
        folder.mkdir(parents=True, exist_ok=True)
        write = plugins.load("convert.writers", self.name)
        return {path.name: path.read_bytes() for path in write(edition, folder)}

    def test_it_writes_the_same_bytes_twice(self, tmp_path: Path) -> None:
        first = self._write(tmp_path / "one")
        assert first, "the writer wrote nothing"
        assert first == self._write(tmp_path / "two")
