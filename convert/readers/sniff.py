"""What a file really is, by its first bytes and the names inside it, and what to do about it."""

from __future__ import annotations

from collections.abc import Collection

from ..errors import SourceError

WORD = frozenset({"docx", "docm", "dotx", "dotm"})
ZIP_START = b"PK\x03\x04"
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_UTF16 = "utf-16-le"
_OPEN_DOCUMENT = {
    b"application/vnd.oasis.opendocument.text": "an OpenDocument text",
    b"application/vnd.oasis.opendocument.spreadsheet": "an OpenDocument spreadsheet",
    b"application/vnd.oasis.opendocument.presentation": "an OpenDocument presentation",
}


def refuse_non_zip(name: str, data: bytes) -> SourceError:
    """The error for a file that is no ZIP: one sentence saying what it is, and the next step."""
    head = data[:4096]
    start = head.lstrip(b"\xef\xbb\xbf \t\r\n")[:256].lower()
    if head.startswith(_OLE):
        return _refuse_ole(name, data)
    if head.startswith(b"%PDF") or b"%PDF-" in head[:1024]:
        return SourceError(
            f"{name} is a PDF.",
            "Ask the publisher for the EPUB, or export the document as DOCX or EPUB.",
        )
    if start.startswith(b"{\\rtf"):
        return SourceError(f"{name} is an RTF document.", "Open it and save it as DOCX.")
    if start.startswith((b"<!doctype html", b"<html", b"mime-version:")):
        return SourceError(f"{name} is a web page.", "Save it as DOCX or EPUB.")
    if start.startswith(b"<?xml") and b"word.document" in head.lower():
        return SourceError(f"{name} is a Word document saved as XML.", "Save it as DOCX.")
    if b"BOOKMOBI" in head[:128]:
        return SourceError(f"{name} is a Mobipocket book.", "Ask the publisher for the EPUB.")
    if head.startswith((ZIP_START, b"PK\x05\x06", b"PK\x07\x08")):
        return damaged_zip(name)
    if _looks_like_text(head):
        return SourceError(
            f"{name} is a plain text file, whatever its name says.",
            "Paste the text into a word processor and save it as DOCX.",
        )
    return SourceError(
        f"{name} is not an EPUB or a Word document: its first bytes are of no kind known here.",
        "Check that the right file was sent, or fetch it again.",
    )


def refuse_other(name: str, data: bytes) -> SourceError | None:
    """The error for a file of another kind where markup is wanted; ``None`` where it may be."""
    head = data[:4096]
    start = head.lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if start.startswith(b"<") and b"word.document" not in start:
        return None
    if head.startswith(ZIP_START):
        return SourceError(
            f"{name} is a ZIP archive, not a file of markup.",
            "Rename it so that it ends in .epub, .docx or .zip, as it was made.",
        )
    if head.startswith((b"\xff\xfe", b"\xfe\xff", b"<\0", b"\0<")):
        return None
    refusal = refuse_non_zip(name, data)
    is_plain = "plain text" in str(refusal) and b"<" in data
    return None if is_plain or start.startswith(b"mime-version") else refusal


def damaged_zip(name: str) -> SourceError:
    """The error for a ZIP that is cut short or broken."""
    return SourceError(
        f"{name} is damaged or cut short, so its parts cannot be read.",
        "Fetch the file again, or open it in the program that made it and save it anew.",
    )


def _refuse_ole(name: str, data: bytes) -> SourceError:
    def holds(stream: str) -> bool:
        return stream.encode(_UTF16) in data[:4_000_000]

    if holds("EncryptionInfo") or holds("EncryptedPackage"):
        return SourceError(
            f"{name} is protected with a password.",
            "Open it in the word processor, remove the password and save it again.",
        )
    if holds("DataSpaces"):
        return SourceError(f"{name} is rights-managed.", "Ask its owner for an unprotected copy.")
    if holds("WordDocument"):
        return SourceError(
            f"{name} is a Word document of the old binary kind (.doc).",
            "Open it in a word processor and save it as DOCX.",
        )
    return SourceError(f"{name} is an old Office file, not a DOCX.", "Save it as DOCX.")


def _looks_like_text(head: bytes) -> bool:
    if b"\0" in head:
        return False
    odd = sum(byte < 32 and byte not in (9, 10, 12, 13, 27) for byte in head)
    return odd * 50 < max(1, len(head))


def refuse_wrong_kind(
    name: str, suffix: str, names: Collection[str], mimetype: bytes
) -> SourceError | None:
    """The error for a ZIP of another kind than its name says; ``None`` where all is well."""
    kind = mimetype.strip()
    for media, noun in _OPEN_DOCUMENT.items():
        if kind.startswith(media):
            return SourceError(f"{name} is {noun}.", "Open it and save it as DOCX.")
    if any(n in names for n in ("xl/workbook.xml", "ppt/presentation.xml")):
        noun = "a spreadsheet" if "xl/workbook.xml" in names else "a presentation"
        return SourceError(f"{name} is {noun}.", "Copy its text into a document saved as DOCX.")
    is_epub = kind == b"application/epub+zip" or "META-INF/container.xml" in names
    is_word = "[Content_Types].xml" in names
    if suffix == "epub" and is_word and not is_epub:
        return SourceError(f"{name} is a Word document.", "Rename it so that it ends in .docx.")
    if suffix in WORD and is_epub and not is_word:
        return SourceError(f"{name} is an EPUB.", "Rename it so that it ends in .epub.")
    if suffix == "zip" and (is_word or is_epub):
        noun, end = ("a Word document", ".docx") if is_word else ("an EPUB", ".epub")
        return SourceError(f"{name} is {noun}.", f"Rename it so that it ends in {end}.")
    if suffix == "epub" and not is_epub and not any(n.lower().endswith(".opf") for n in names):
        return SourceError(
            f"{name} is a ZIP archive without an EPUB package inside.",
            "Check that the right file was sent.",
        )
    if suffix in WORD and not is_word:
        return SourceError(
            f"{name} is a ZIP archive without a Word document inside.",
            "Check that the right file was sent.",
        )
    return None
