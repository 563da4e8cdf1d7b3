"""Open a source safely: whole file into memory within limits, entries read by name, no disk.

Nothing is ever unpacked to disk and nothing outside the source is opened, so entry names with
``..`` or a drive are only names.  Every fault of the ZIP becomes one SourceError.
"""

from __future__ import annotations

import io
import stat
import struct
import unicodedata
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Protocol

from lxml import etree

from ..errors import SourceError
from .limits import LIMITS, MIB, Limits
from .markup import MarkupError, parse_xml
from .sniff import WORD, damaged_zip, refuse_non_zip, refuse_wrong_kind

__all__ = ["LIMITS", "Limits", "Package", "Parts", "Source", "open_source"]

_MARKUP = ("xhtml", "html", "htm", "xml", "opf", "ncx", "css", "rels", "svg", "smil")
_ZIP_FAULTS = (
    zipfile.BadZipFile,
    zipfile.LargeZipFile,
    zlib.error,
    EOFError,
    OSError,
    struct.error,
    UnicodeDecodeError,
    ValueError,
    IndexError,
)
_LOCAL_HEADER = 30


class Source:
    """A source file, read once.  ``name`` is the file's own name, for messages."""

    __slots__ = ("_limits", "_package", "data", "name", "path")

    def __init__(self, path: Path, data: bytes, limits: Limits = LIMITS) -> None:
        self.path = path
        self.name = path.name
        self.data = data
        self._limits = limits
        self._package: Package | None = None

    def package(self) -> Package:
        """The source as a ZIP package.  Raises SourceError saying what the file is instead."""
        if self._package is None:
            suffix = self.path.suffix.lower().lstrip(".")
            self._package = Package(self.name, self.data, suffix, self._limits)
        return self._package


def open_source(path: str | Path, limits: Limits = LIMITS) -> Source:
    """Read a source file whole.

    Raises SourceError if it is missing, a folder, empty, unreadable or beyond ``limits.file``.
    """
    path = Path(path)
    _refuse_bytes(path)
    try:
        found = path.stat()
    except OSError as error:
        if isinstance(error, PermissionError):
            raise _unreadable(path) from None
        raise SourceError(
            f"There is no file {path.name} in {_folder(path.parent)}.",
            "Check the spelling of the name and the folder.",
        ) from None
    except ValueError:
        raise SourceError("The name of the source holds a character no name can have.") from None
    if stat.S_ISDIR(found.st_mode):
        raise _refused_folder(path)
    if path.suffix.lower() == ".opf":
        raise SourceError(
            f"{path.name} is one file of an unpacked EPUB.",
            f"Name the EPUB itself. If there is only the folder, compress {_folder(path.parent)} "
            "to a ZIP archive, give the archive a name that ends in .epub, and convert that.",
        )
    if not stat.S_ISREG(found.st_mode):
        raise SourceError(f"{path.name} is not an ordinary file.", "Copy the document to a file.")
    if found.st_size == 0:
        raise SourceError(f"{path.name} is empty.", "Fetch or save the file again.")
    if found.st_size > limits.file:
        raise SourceError(
            f"{path.name} has {found.st_size // MIB} MiB, more than the limit of "
            f"{limits.file // MIB} MiB.",
            "Split the document, or take large pictures and films out.",
        )
    try:
        data = path.read_bytes()
    except OSError:
        raise _unreadable(path) from None
    return Source(path, data, limits)


def _refuse_bytes(path: Path) -> None:
    """Raises SourceError for a name with bytes that are no text (PEP 383)."""
    if any("\udc80" <= char <= "\udcff" for char in str(path)):
        raise SourceError(
            "The name of the source, or of its folder, is not text in UTF-8.", "Rename it."
        )


def _refused_folder(path: Path) -> SourceError:
    try:
        inside = (path, *sorted(p for p in path.iterdir() if p.is_dir())[:50])
        packages = [name for folder in inside for name in folder.glob("*.opf")]
    except OSError:
        packages = []
    if packages or (path / "META-INF" / "container.xml").exists():
        return SourceError(
            f"{path.name} is an EPUB that was unpacked to a folder.",
            f"Compress the folder to a ZIP archive, name the archive {path.stem}.epub, "
            "and convert that.",
        )
    return SourceError(
        f"{path} is a folder, not a document.",
        "Name the document itself, or convert all that are in the folder with cellset batch.",
    )


def _folder(path: Path) -> str:
    return "this folder" if str(path) == "." else f"the folder {path}"


def _unreadable(path: Path) -> SourceError:
    return SourceError(
        f"{path.name} cannot be read: you have no permission or the disk failed.",
        "Check the permissions of the file, or copy it to another place.",
    )


class Parts(Protocol):
    """What a source is made of: parts with names, whatever holds them."""

    @property
    def names(self) -> tuple[str, ...]: ...

    def find(self, name: str) -> str | None: ...

    def read(self, name: str) -> bytes: ...

    def xml(self, name: str) -> etree._Element: ...


_END, _END_64 = b"PK\x05\x06", b"PK\x06\x06"


def directory_size(data: bytes) -> int:
    """How many bytes the central directory of a ZIP claims, before anything reads it; 0 where no
    end of a ZIP is found [APPNOTE 4.3.14 and 4.3.16]."""
    at = data.rfind(_END, max(0, len(data) - 65_557))
    if at < 0 or at + 16 > len(data):
        return 0
    size = int.from_bytes(data[at + 12 : at + 16], "little")
    if size == 0xFFFFFFFF and (big := data.rfind(_END_64, max(0, at - 4096), at)) >= 0:
        size = int.from_bytes(data[big + 40 : big + 48], "little")
    return size


class Package:
    """The entries of a ZIP, by name; ``doubled`` names stand twice (the last one counts);
    ``prefixed``: something else stands before the first entry."""

    __slots__ = (
        "_allow_dtd",
        "_folded",
        "_infos",
        "_limits",
        "_read",
        "_source",
        "_spent",
        "_zip",
        "doubled",
        "names",
        "prefixed",
    )

    def __init__(self, source: str, data: bytes, suffix: str, limits: Limits = LIMITS) -> None:
        self._source = source
        self._limits = limits
        self._spent = [0, 0]
        self._read: set[str] = set()
        self._folded: dict[str, str] | None = None
        self._allow_dtd = suffix not in WORD
        if not zipfile.is_zipfile(io.BytesIO(data)):
            raise refuse_non_zip(source, data)
        if (size := directory_size(data)) > limits.directory:
            raise SourceError(
                f"The list of entries of {source} has {size // MIB} MiB, more than the limit of "
                f"{limits.directory // MIB} MiB.",
                "Check where the file comes from.",
            )
        self.prefixed = not data.startswith((b"PK\x03\x04", b"PK\x05\x06"))
        with self._guard():
            self._zip = zipfile.ZipFile(io.BytesIO(data))
            infos = self._zip.infolist()
        self._check(infos)
        self._infos = {info.filename: info for info in infos if not info.is_dir()}
        self.names: tuple[str, ...] = tuple(self._infos)
        seen: set[str] = set()
        doubled = [i.filename for i in infos if i.filename in seen or seen.add(i.filename)]  # type: ignore[func-returns-value]
        self.doubled: tuple[str, ...] = tuple(dict.fromkeys(doubled))
        mimetype = self.read("mimetype") if "mimetype" in self._infos else b""
        if wrong := refuse_wrong_kind(source, suffix, self._infos, mimetype[:200]):
            raise wrong

    def __contains__(self, name: object) -> bool:
        return name in self._infos

    def find(self, name: str) -> str | None:
        """The entry meant by ``name``: exact, else regardless of case, Unicode form and slashes."""
        if name in self._infos:
            return name
        if self._folded is None:
            self._folded = {}
            for entry in self.names:
                self._folded.setdefault(_fold(entry), entry)
        return self._folded.get(_fold(name))

    def read(self, name: str) -> bytes:
        """The bytes of an entry.  Raises SourceError if it is missing, broken or too big."""
        info = self._infos.get(name)
        if info is None:
            raise SourceError(
                f"{self._source} lacks its part {name}.",
                "Fetch the file again or ask for a repaired one.",
            )
        markup = name.rsplit(".", 1)[-1].lower() in _MARKUP
        limit = self._limits.markup if markup else self._limits.entry
        if info.file_size > limit:
            raise self._too_big(name, info.file_size, limit)
        packed = max(1, info.compress_size)
        if (
            info.file_size > self._limits.ratio_from
            and info.file_size > self._limits.ratio * packed
        ):
            raise SourceError(
                f"The part {name} of {self._source} unpacks to {info.file_size // packed} times "
                f"its size, more than the limit of {self._limits.ratio} times.",
                "Check where the file comes from.",
            )
        if name not in self._read:
            self._spend(name, info.file_size, markup)
        with self._guard(), self._zip.open(info) as stream:
            return stream.read(limit + 1)

    def xml(self, name: str) -> etree._Element:
        """The root element of an XML entry.

        Raises SourceError if it is missing, not well-formed or hostile.  Word packages may have
        no document type declaration; in EPUBs the named entities of HTML are known.
        """
        try:
            return parse_xml(self.read(name), self._limits, self._allow_dtd)
        except MarkupError as error:
            at = f" at line {error.line}" if error.line else ""
            what = error.what if error.line else f"it {error.what}"
            raise SourceError(
                f"The part {name} of {self._source} cannot be read{at}: {what}.",
                "Open the document in the program that made it and save it again.",
            ) from None

    def _check(self, infos: list[zipfile.ZipInfo]) -> None:
        """Limits and tricks of the central directory."""
        limits, source = self._limits, self._source
        if len(infos) > limits.entries:
            raise SourceError(
                f"{source} has {len(infos)} entries, more than the limit of {limits.entries}.",
                "Check where the file comes from.",
            )
        end = 0
        for info in sorted(infos, key=lambda i: i.header_offset):
            if len(info.filename) > limits.name:
                raise SourceError(
                    f"{source} has an entry with a name beyond {limits.name} characters."
                )
            if info.header_offset < end:
                raise SourceError(
                    f"Entries of {source} overlap, as only files made to do harm do.",
                    "Check where the file comes from.",
                )
            end = info.header_offset + _LOCAL_HEADER + len(info.filename) + info.compress_size
            if stat.S_ISLNK(info.external_attr >> 16):
                raise SourceError(
                    f"{source} holds a link ({info.filename}) in place of a file.",
                    "Pack the document again with the files themselves.",
                )
        if any(info.flag_bits & 1 for info in infos):
            raise SourceError(
                f"{source} is protected with a password.", "Ask its owner for an unprotected copy."
            )

    def _spend(self, name: str, size: int, markup: bool) -> None:
        self._read.add(name)
        self._spent[0] += size
        self._spent[1] += size if markup else 0
        if self._spent[0] > self._limits.total or self._spent[1] > self._limits.total_markup:
            raise SourceError(
                f"The parts of {self._source} come to more than the limit of "
                f"{self._limits.total_markup // MIB} MiB of text.",
                "Split the document.",
            )

    def _too_big(self, name: str, size: int, limit: int) -> SourceError:
        return SourceError(
            f"The part {name} of {self._source} has {size // MIB} MiB, more than the limit of "
            f"{limit // MIB} MiB.",
            "Split the document.",
        )

    @contextmanager
    def _guard(self) -> Iterator[None]:
        """Every fault the ZIP library knows, as one SourceError."""
        try:
            yield
        except NotImplementedError:
            raise SourceError(
                f"{self._source} is packed or encrypted in a way this program does not read.",
                "Save it anew, or ask its owner for an unprotected copy.",
            ) from None
        except RuntimeError:
            raise SourceError(
                f"{self._source} is protected with a password.",
                "Ask its owner for an unprotected copy.",
            ) from None
        except _ZIP_FAULTS:
            raise damaged_zip(self._source) from None


def _fold(name: str) -> str:
    return unicodedata.normalize("NFC", name.replace("\\", "/")).casefold().lstrip("/")
