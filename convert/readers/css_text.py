"""The text of style sheets: rules worth parsing, declarations kept, shorthands spelled out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

import tinycss2

KEPT = frozenset(
    {"display", "visibility", "text-transform", "font-variant", "font-variant-caps", "font-style"}
    | {"font-weight", "font", "list-style", "list-style-type", "content", "text-decoration"}
    | {"text-decoration-line", "vertical-align", "white-space"}
    | {"counter-reset", "counter-increment", "counter-set"}
    | {"border", "border-style", "border-top", "border-right", "border-bottom", "border-left"}
    | {"text-indent", "padding-left", "margin-left", "padding", "margin"}
    | {"position", "top", "bottom", "left", "clip", "clip-path", "font-size"}
    | {"color", "background", "background-color", "letter-spacing", "order", "flex-direction"}
)
_RELEVANT = re.compile(
    r"display|visibility|text-transform|variant|font-style|font-weight|font\s*:|list-style|content"
    r"|decoration|vertical-align|white-space|counter-|border|relative|clip|letter-spacing"
    r"|-\d{4}|-reverse|\border\s*:|\\",
    re.IGNORECASE,
)
_COLOURED = re.compile(r"color\s*:|background\s*:", re.IGNORECASE)
# colours count for words in a line only, so not for links, headings and whole parts of a page
_NO_WORDS = re.compile(
    r"(?:^|[\s>+~,}])(?:a|h[1-6]|p|li|ul|ol|body|html|table|t[dhr]|div|section|img|hr|:root)[\s:]*$",
    re.IGNORECASE,
)
_LONG_NUMBER = re.compile(r"\d{1000,}")
_SURROGATE = re.compile("[\ud800-\udfff]")  # CSS Syntax 3, 4.3.7: not a character
_INDENTED = re.compile(r"text-indent|padding|margin", re.IGNORECASE)
# indents count for lines of verse only, so only for selectors that may mean one
_VERSE = re.compile(
    r"span|div|verse|poe|line|stanza|song|hymn|lyric|indent|\.i\d|\.", re.IGNORECASE
)
_SHORTHANDS = frozenset({"font", "list-style", "text-decoration", "margin", "padding"})

Content = tuple[tuple[str, str], ...]
Value = str | Content


def keep_relevant(text: str) -> str:
    """A style sheet without the rules that set nothing kept, as parsing them takes long.

    Left whole where quotation marks make it unsure where a rule ends.
    """
    text = _without_comments(text)
    kept: list[str] = []
    at = 0
    while (start := text.find("{", at)) >= 0:
        end = text.find("}", start)
        if end < 0:
            break
        inner = text.find("{", start + 1, end)
        body = text[start + 1 : end]
        if inner >= 0:
            kept.append(text[at : start + 1])
            at = start + 1
            continue
        if body.count('"') % 2 or body.count("'") % 2:
            return text
        prelude = text[at:start]
        if (
            _RELEVANT.search(body)
            or (_INDENTED.search(body) and _VERSE.search(prelude))
            or (_COLOURED.search(body) and not _NO_WORDS.search(prelude))
        ):
            kept.append(text[at : end + 1])
        else:
            kept.append(prelude[: max(prelude.rfind(";"), prelude.rfind("}")) + 1])
        at = end + 1
    return "".join([*kept, text[at:]])


def bounded(text: str) -> str:
    """Style text without numbers too long to be one, which the parser does not survive."""
    return _LONG_NUMBER.sub("9", text)


def _without_comments(text: str) -> str:
    pieces: list[str] = []
    at = 0
    while (start := text.find("/*", at)) >= 0:
        pieces.append(text[at:start])
        end = text.find("*/", start + 2)
        at = end + 2 if end >= 0 else len(text)
    return "".join([*pieces, text[at:]])


def read_declarations(content: Any) -> dict[str, tuple[Value, bool]]:
    """The kept properties of a declaration block (tokens or text), with their importance."""
    kept: dict[str, tuple[Value, bool]] = {}
    content = bounded(content) if isinstance(content, str) else content
    for item in tinycss2.parse_blocks_contents(content, skip_comments=True, skip_whitespace=True):
        if item.type == "declaration" and item.lower_name in KEPT:
            try:
                value = _value(item)
            except RecursionError:  # brackets deeper than any value has: no property takes it
                continue
            kept[item.lower_name] = (value, item.important)
            if item.lower_name in _SHORTHANDS:
                for name, part in _expand(item.lower_name, str(value)):
                    kept[name] = (part, item.important)
    return kept


def _value(declaration: Any) -> Value:
    if declaration.lower_name == "content":
        return _content(declaration.value)
    text: str = tinycss2.serialize(declaration.value)
    return text.strip().lower()


def _expand(name: str, value: str) -> Iterator[tuple[str, str]]:
    """The properties a shorthand sets, of those kept."""
    words = value.split()
    if name in ("margin", "padding") and words:
        yield f"{name}-left", words[3] if len(words) > 3 else words[min(1, len(words) - 1)]
    elif name == "list-style":
        kinds = [w for w in words if w not in ("inside", "outside") and "url(" not in w]
        if kinds:
            yield "list-style-type", kinds[0]
    elif name == "text-decoration":
        yield "text-decoration-line", value
    elif name == "font":
        slant = [w for w in words if w in ("italic", "oblique")]
        heavy = [w for w in words if w in ("bold", "bolder") or re.fullmatch("[1-9]00", w)]
        yield "font-style", slant[0] if slant else "normal"
        yield "font-weight", heavy[0] if heavy else "normal"
        yield "font-variant", "small-caps" if "small-caps" in words else "normal"


def _content(tokens: Iterable[Any]) -> Content:
    """Strings as ("text", s), attributes as ("attr", name), quotes and counters by name."""
    parts: list[tuple[str, str]] = []
    for token in tokens:
        if token.type == "string":
            parts.append(("text", _SURROGATE.sub("\ufffd", token.value)))
        elif token.type == "function":
            inner = tinycss2.serialize(token.arguments).strip()
            known = token.lower_name in ("attr", "counter", "counters")
            parts.append((token.lower_name if known else "other", inner))
        elif token.type == "ident" and token.lower_value.endswith("-quote"):
            parts.append(("quote", token.lower_value))
        elif token.type == "url":
            parts.append(("other", "a picture"))
    return tuple(parts)


def declare_namespace(prelude: list[Any], spaces: dict[str | None, str]) -> None:
    words = [t for t in prelude if t.type in ("ident", "string", "url")]
    if words and words[-1].type in ("string", "url"):
        spaces[words[0].value if words[0].type == "ident" else None] = words[-1].value
