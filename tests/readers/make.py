"""Small packages made from strings, so that a test shows all its source."""

from __future__ import annotations

import zipfile
from pathlib import Path

from convert.document import nodes
from convert.document.nodes import Document
from convert.findings import Findings
from convert.readers.container import open_source
from convert.settings import Settings

CONTAINER = (
    '<container xmlns="urn:oasis:names:tc:opendocument:xmlns:container" version="1.0"><rootfiles>'
    '<rootfile full-path="{opf}" media-type="application/oebps-package+xml"/>'
    "</rootfiles></container>"
)


def pack(path: Path, files: dict[str, str | bytes]) -> Path:
    """A ZIP of ``files`` in their order; ``mimetype`` is stored, the rest deflated."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            how = zipfile.ZIP_STORED if name == "mimetype" else zipfile.ZIP_DEFLATED
            archive.writestr(zipfile.ZipInfo(name), content, compress_type=how)
    return path


def page(body: str, head: str = "", attributes: str = "") -> str:
    """A content document with ``body`` as the content of its body element."""
    return (
        '<?xml version="1.0" encoding="utf-8"?><html xmlns="http://www.w3.org/1999/xhtml" '
        f'xmlns:epub="http://www.idpf.org/2007/ops" {attributes}>'
        f"<head><title>T</title>{head}</head>"
        f"<body>{body}</body></html>"
    )


def epub(
    folder: Path,
    *bodies: str,
    head: str = "",
    metadata: str = "<dc:title>Tides</dc:title><dc:language>en</dc:language>",
    manifest: str = "",
    spine: str = "",
    files: dict[str, str | bytes] | None = None,
) -> Path:
    """An EPUB whose spine holds one content document for each of ``bodies``: c1.xhtml, ..."""
    items = "".join(
        f'<item id="c{n}" href="c{n}.xhtml" media-type="application/xhtml+xml"/>'
        for n in range(1, len(bodies) + 1)
    )
    refs = spine or "".join(f'<itemref idref="c{n}"/>' for n in range(1, len(bodies) + 1))
    package = (
        '<package xmlns="http://www.idpf.org/2007/opf" version="3.0" unique-identifier="i">'
        '<metadata xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:opf="http://www.idpf.org/2007/opf">'
        f"{metadata}</metadata><manifest>{items}{manifest}</manifest><spine>{refs}</spine></package>"
    )
    content: dict[str, str | bytes] = {
        "mimetype": "application/epub+zip",
        "META-INF/container.xml": CONTAINER.format(opf="OEBPS/book.opf"),
        "OEBPS/book.opf": package,
    }
    for n, body in enumerate(bodies, 1):
        content[f"OEBPS/c{n}.xhtml"] = body if body.startswith("<?xml") else page(body, head)
    content.update(files or {})
    return pack(folder / "tides.epub", content)


def read_epub(path: Path, findings: Findings | None = None) -> Document:
    """The document of an EPUB."""
    from convert.readers.epub import read

    return read(open_source(path), Settings(), Findings() if findings is None else findings)


def kinds(findings: Findings) -> list[str]:
    """The kinds of the findings filed, sorted, each once."""
    return sorted({finding.kind for finding in findings.all()})


# ---------------------------------------------------------------- drawing a tree


def draw_runs(document: Document, runs: nodes.Inlines) -> str:
    """Inlines as text: ``<bold|sea>``, ``[^1>id]``, ``[p 12]``, `` / `` for a line end."""
    text, out = document.ledger.text, ""
    for run in runs:
        if isinstance(run, nodes.Run):
            marks = [name for name, bit in nodes.TYPEFORM_BITS.items() if run.typeform & bit]
            marks += [f"@{run.lang}"] if run.lang else []
            marks += [run.voice] if run.voice else []
            words = text[run.start : run.end]
            out += f"<{' '.join(marks)}|{words}>" if marks else words
        elif isinstance(run, nodes.NoteCall):
            out += f"[^{text[run.start : run.end]}>{run.target.partition('#')[2]}]"
        elif isinstance(run, nodes.PrintPageTurn):
            out += f"[p {run.label}]"
        elif isinstance(run, nodes.LineBreak):
            out += " / "
        elif isinstance(run, nodes.AnswerSpace):
            out += f"[{run.kind} {text[run.start : run.end]}]"
        elif isinstance(run, nodes.Added):
            out += f"[+{run.text}]"
        else:
            out += f"[{type(run).__name__} {text[run.start : run.end]}]"
    return out


_SHOWN = ("role", "level", "kind", "stanza", "label", "rows", "columns", "head", "id", "tag")


def draw(document: Document) -> str:
    """The tree as indented lines: node, what is special of it, its own words."""
    lines: list[str] = []
    stack: list[tuple[object, int]] = [(child, 0) for child in reversed(document.children)]
    while stack:
        node, depth = stack.pop()
        facts = [
            f"{name}={str(value).partition('#')[2] or value}"
            for name in _SHOWN
            if (value := getattr(node, name, None)) is True
            or value not in (None, "", False, 1, "body")
        ]
        words = draw_runs(document, nodes.inlines_of(node))
        if isinstance(node, nodes.DisplayMath):
            words = document.ledger.text[node.start : node.end]
        if isinstance(node, nodes.VerseLine) and node.number:
            facts.append(f"number={draw_runs(document, node.number)}")
        line = " ".join([type(node).__name__, *facts])
        lines.append("  " * depth + (f"{line}: {words}" if words else line))
        stack.extend((kid, depth + 1) for kid in reversed(nodes.children_of(node)))
    return "\n".join(lines)
