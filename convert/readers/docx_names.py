"""Names of the elements and attributes of a Word document (ISO/IEC 29500-1, transitional)."""

from __future__ import annotations

import re

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
R = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
M = "{http://schemas.openxmlformats.org/officeDocument/2006/math}"
MC = "{http://schemas.openxmlformats.org/markup-compatibility/2006}"
WP = "{http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing}"
A = "{http://schemas.openxmlformats.org/drawingml/2006/main}"
PIC = "{http://schemas.openxmlformats.org/drawingml/2006/picture}"
CHART = "{http://schemas.openxmlformats.org/drawingml/2006/chart}"
DIAGRAM = "{http://schemas.openxmlformats.org/drawingml/2006/diagram}"
DECORATIVE = "{http://schemas.microsoft.com/office/drawing/2017/decorative}decorative"
WPS = "{http://schemas.microsoft.com/office/word/2010/wordprocessingShape}"
W14 = "{http://schemas.microsoft.com/office/word/2010/wordml}"
V = "{urn:schemas-microsoft-com:vml}"
O = "{urn:schemas-microsoft-com:office:office}"  # noqa: E741

VAL = f"{W}val"
ID = f"{W}id"

# Prefixed namespaces whose Choice of an AlternateContent this reader can walk (Part 3).
KNOWN_CHOICES = frozenset({"wps", "wpg", "wpc", "wpi", "w14", "w15", "w16", "cx1", "aink", "am3d"})

_STRICT = re.compile(rb"http://purl\.oclc\.org/ooxml/([A-Za-z]+)(/[A-Za-z/]*)?")
_TRANSITIONAL = {
    b"wordprocessingml": b"http://schemas.openxmlformats.org/wordprocessingml/2006",
    b"drawingml": b"http://schemas.openxmlformats.org/drawingml/2006",
    b"officeDocument": b"http://schemas.openxmlformats.org/officeDocument/2006",
}


def to_transitional(data: bytes) -> bytes:
    """Serialised XML with the strict namespaces and relationship types made transitional."""

    def swap(match: re.Match[bytes]) -> bytes:
        base = _TRANSITIONAL.get(match[1])
        return match[0] if base is None else base + (match[2] or b"")

    return _STRICT.sub(swap, data)


def is_on(value: str | None) -> bool:
    """ST_OnOff of an element that is present: absent, true, 1 and on mean on."""
    return value not in ("0", "false", "off")


def number(value: str | None, default: int = 0) -> int:
    """A whole number, or ``default`` where the file has none or nonsense."""
    if not value:
        return default
    try:
        return int(value)
    except ValueError:
        return default


_UNITS = {"pt": 20.0, "in": 1440.0, "cm": 567.0, "mm": 56.7, "pc": 240.0, "pi": 240.0}


def twips(value: str | None, default: int = 0) -> int:
    """A length in twentieths of a point; strict files write units (``12pt``)."""
    if not value:
        return default
    scale = _UNITS.get(value[-2:])
    try:
        return int(float(value[:-2]) * scale) if scale else int(float(value))
    except (ValueError, OverflowError):
        return default
