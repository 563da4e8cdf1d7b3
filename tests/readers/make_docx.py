"""Small Word documents made from strings, and trees drawn as lines, so that a test shows all."""

from __future__ import annotations

from pathlib import Path

from convert.document.nodes import (
    Added,
    AnswerSpace,
    Document,
    LineBreak,
    NoteCall,
    PrintPageTurn,
    Run,
    children_of,
    inlines_of,
)
from convert.findings import Findings
from convert.readers.container import open_source
from convert.readers.docx import read
from convert.settings import Settings
from convert.testing import uncovered

from .make import pack

W_NAMES = (
    'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" '
    'xmlns:m="http://schemas.openxmlformats.org/officeDocument/2006/math" '
    'xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" '
    'xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" '
    'xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" '
    'xmlns:c="http://schemas.openxmlformats.org/drawingml/2006/chart" '
    'xmlns:dgm="http://schemas.openxmlformats.org/drawingml/2006/diagram" '
    'xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture" '
    'xmlns:wps="http://schemas.microsoft.com/office/word/2010/wordprocessingShape" '
    'xmlns:w14="http://schemas.microsoft.com/office/word/2010/wordml" '
    'xmlns:adec="http://schemas.microsoft.com/office/drawing/2017/decorative" '
    'xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office"'
)
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
TYPES = '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>'
LINKS = '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">{}</Relationships>'


def relations(*rows: tuple[str, str, str]) -> str:
    """A relationships part: (id, last word of the type, target)."""
    inner = "".join(
        f'<Relationship Id="{name}" Type="{OFFICE}/{kind}" Target="{target}"/>'
        for name, kind, target in rows
    )
    return LINKS.format(inner)


def part(kind: str, inner: str) -> str:
    """A part with the root element ``w:kind``."""
    return f'<?xml version="1.0" encoding="UTF-8"?><w:{kind} {W_NAMES}>{inner}</w:{kind}>'


def docx(folder: Path, body: str, **parts: str) -> Path:
    """A document with ``body``; ``styles``, ``numbering``, ``footnotes``, ``endnotes``,
    ``settings`` are the insides of those parts, ``links`` further relationship rows
    (``id kind target``, one a line) and ``files`` is given through :func:`docx_of`."""
    rows = [(f"p{at}", kind, f"{kind}.xml") for at, kind in enumerate(parts) if kind != "links"]
    rows += [tuple(line.split()) for line in parts.pop("links", "").splitlines()]  # type: ignore[misc]
    files: dict[str, str | bytes] = {
        "[Content_Types].xml": TYPES,
        "_rels/.rels": relations(("m", "officeDocument", "word/document.xml")),
        "word/document.xml": part("document", f"<w:body>{body}</w:body>"),
        "word/_rels/document.xml.rels": relations(*rows),
    }
    files.update({f"word/{kind}.xml": part(kind, inner) for kind, inner in parts.items()})
    return pack(folder / "harbour.docx", files)


def p(inner: str, style: str = "", props: str = "") -> str:
    """A paragraph; ``inner`` may be bare words."""
    named = f'<w:pStyle w:val="{style}"/>' if style else ""
    ppr = f"<w:pPr>{named}{props}</w:pPr>" if named or props else ""
    return f"<w:p>{ppr}{inner if inner.startswith('<') or not inner else r(inner)}</w:p>"


def r(text: str, props: str = "") -> str:
    """A run; ``props`` are the names of on/off properties, or elements."""
    if props and not props.startswith("<"):
        props = "".join(f"<w:{name}/>" for name in props.split())
    rpr = f"<w:rPr>{props}</w:rPr>" if props else ""
    return f'<w:r>{rpr}<w:t xml:space="preserve">{text}</w:t></w:r>'


def style(name: str, inner: str = "", kind: str = "paragraph", style_id: str = "") -> str:
    """A style; its id is the name without spaces unless given."""
    style_id = style_id or name.replace(" ", "")
    return (
        f'<w:style w:type="{kind}" w:styleId="{style_id}"><w:name w:val="{name}"/>{inner}</w:style>'
    )


def load(path: Path, **settings: object) -> tuple[Document, Findings]:
    """Read a document; every print character must be accounted for in the tree."""
    findings = Findings()
    document = read(open_source(path), Settings(**settings), findings)  # type: ignore[arg-type]
    assert uncovered(document) == []
    return document, findings


_SHOWN = ("level", "role", "kind", "head", "rows", "columns", "label", "id")
_USUAL = (None, "", "body", False)


def draw(document: Document) -> str:
    """The tree as indented lines: node, facts, inlines.

    Inlines: words in quotation marks with the typeform bits after a stroke, answer spaces in
    angle brackets, note calls after a caret, a line break as a slash, a turn as page=label.
    """
    lines: list[str] = []
    stack = [(0, child) for child in reversed(document.children)]
    while stack:
        depth, node = stack.pop()
        facts = []
        for name in _SHOWN:
            value = getattr(node, name, None)
            if value not in _USUAL and not (name in ("rows", "columns") and value == 1):
                facts.append(f"{name}={value}")
        words = [_draw_inline(inline, document.ledger.text) for inline in inlines_of(node)]
        lines.append("  " * depth + " ".join([type(node).__name__, *facts, *words]))
        stack.extend((depth + 1, child) for child in reversed(children_of(node)))
    return "\n".join(lines)


def _draw_inline(inline: object, text: str) -> str:
    match inline:
        case Run():
            extra = f"/{inline.typeform}" if inline.typeform else ""
            lang = f"@{inline.lang}" if inline.lang else ""
            return f"'{text[inline.start : inline.end]}'{extra}{lang}"
        case AnswerSpace():
            name = f" {inline.name}" if inline.name else ""
            choices = f" of {'|'.join(inline.choices)}" if inline.choices else ""
            return f"<{inline.kind}{name}: {text[inline.start : inline.end]}{choices}>"
        case NoteCall():
            return f"^{text[inline.start : inline.end]}"
        case LineBreak():
            return "/"
        case PrintPageTurn():
            return f"page={inline.label}"
        case Added():
            return f"+{inline.text}"
        case _:
            start, end = getattr(inline, "start", 0), getattr(inline, "end", 0)
            return f"{type(inline).__name__}'{text[start:end]}'"


def messages(findings: Findings) -> dict[str, str]:
    """Kind to sentence of each finding, the last one of a kind."""
    return {finding.kind: finding.message for finding in findings.all()}
