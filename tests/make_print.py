"""Zip the unpacked print fixtures: ``python tests/make_print.py``; a test keeps them current.

An EPUB begins with its ``mimetype``, stored; the rest is in sorted order.  Dates are fixed, so
the same folder gives the same bytes.
"""

from __future__ import annotations

import zipfile
from pathlib import Path

FIXTURES = Path(__file__).parents[1] / "fixtures"
PRINT = {"river-school": ".epub", "permit-form": ".docx"}
FIRST = ("mimetype", "[Content_Types].xml")
DATE = (2024, 1, 1, 0, 0, 0)


def zip_print(name: str, folder: Path) -> Path:
    """Zip ``fixtures/print/<name>`` into ``folder``; returns the file.

    Nothing is compressed, so the bytes do not depend on the version of the compressor.
    """
    source = FIXTURES / "print" / name
    files = [path.relative_to(source).as_posix() for path in source.rglob("*") if path.is_file()]
    target = folder / f"{name}{PRINT[name]}"
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as package:
        for file in sorted(files, key=lambda file: (file not in FIRST, file)):
            entry = zipfile.ZipInfo(file, DATE)
            entry.create_system = 3
            entry.external_attr = 0o100644 << 16
            package.writestr(entry, (source / file).read_bytes())
    return target


if __name__ == "__main__":
    for name in PRINT:
        print(zip_print(name, FIXTURES))
