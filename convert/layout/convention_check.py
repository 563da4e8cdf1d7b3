"""Rows of a convention to a checked Convention: unknown keys, missing cites, dead rows refused."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import MISSING, fields
from typing import Any, TypeVar

from ..errors import ConventionError
from .convention import Convention, Front, Page, Pair, Role, Style, Volumes, Wording

KINDS = (
    "title", "para", "h-center", "h-5", "h-7", "list", "box-top", "box-bottom", "table",
    "table-head", "table-rule", "tn", "caption", "attribution", "displayed", "verse", "speech",
    "direction", "exercise", "toc", "index", "glossary", "bibliography", "note", "note-rule",
    "page-turn", "math", "symbols", "form",
)  # fmt: skip
KEEPS = (
    "whole", "with_next", "next_whole", "head_min", "tail_min", "start_not_on_last",
    "with_previous", "note_whole", "note_with_next",
)  # fmt: skip
TABLES = (
    "name", "title", "page", "volume", "turn", "headings", "rules", "style", "between", "role",
    "notes", "front",
)  # fmt: skip
NODES = ("Paragraph", "ListBlock", "Displayed")
# Styles that the flow asks for by name, so no role row needs to reach them.
ASKED = (
    "list", "displayed", "displayed-blocked", "displayed-in-exercise", "attribution",
    "transcriber-note", "description", "box-top", "box-bottom", "box-top-outer",
    "box-bottom-outer", "verse", "speech", "verse-speech", "table-title", "table-note",
    "table-row-heading", "table", "table-columns", "table-columns-title", "table-key",
    "table-step", "table-step-heading", "note-rule", "note", "table-footnote",
    "endnote", "context-break", "math", "math-rows", "page-turn", "caption", "form", "paragraph",
    "paragraph-rest", "numbered-prose", "glossary-term", "stage-direction", "letter-division",
    "cartoon", "cartoon-frame",
)  # fmt: skip
RULES: Mapping[str, type] = {
    "note_words": int,
    "notes_at": str,
    "term_mark": str,
    "deepest": int,
    "new_page": list,
    "front_matter": list,
    "guide_words": list,
    "speaker_capitals": str,
    "table_forms": list,
    "table_runovers": int,
    "table_keys": int,
    "table_parts": int,
    "table_spans": str,
    "table_notes": str,
    "table_note_line": bool,
    "list_columns": int,
    "prose_line_numbers": str,
    "margin_numbers": str,
    "illustrations": str,
    "interruptions": str,
    "repeated_lists": list,
    "new_page_headings": int,
    "new_volume": list,
    "heading_capitals": str,
    "ornament": str,
}
WORDS = {
    ("page", "running_head"): ("line-1", "none"),
    ("page", "print_page"): ("top-right", "none"),
    ("page", "braille_page"): ("bottom-right", "none"),
    ("page", "blank_policy"): ("2024", "pre2024"),
    ("page", "words_over_pages"): ("before", "after"),
    ("page", "letters_after_z"): ("doubled", "restart"),
    ("rules", "speaker_capitals"): ("initial", "print"),
    ("page", "title_capitals"): ("print", "full"),
    ("page", "head_capitals"): ("print", "full"),
    ("rules", "heading_capitals"): ("print", "initial"),
    ("page", "sides"): ("one", "two"),
    ("volume", "boundaries"): (
        "centred heading",
        "cell-5 heading",
        "cell-7 heading",
        "paragraph",
        "item",
    ),
    ("page", "centre_odd"): ("right", "left"),
    ("rules", "notes_at"): ("page", "section"),
    ("rules", "prose_line_numbers"): ("every", "print"),
    ("rules", "margin_numbers"): ("every", "print"),
    ("rules", "illustrations"): ("page-end", "print"),
    ("rules", "interruptions"): ("told", "print"),
    ("rules", "table_notes"): ("table", "page"),
    ("rules", "table_spans"): ("repeat", "no-columns"),
    ("front", "symbols_order"): ("section", "braille"),
    ("style", "typeforms"): ("keep", "drop", "whole", "reverse"),
}
_CELLS = re.compile(r"[1-9]\d?-[1-9]\d?")
_INDENT = re.compile(r"[1-9]\d?-[1-9]\d?|nested|centred|previous\+[1-9]\d?")
_PYTHON = {"int": int, "str": str, "bool": bool, "int | None": int, "tuple[str, ...]": list}
T = TypeVar("T")


def near(word: str, known: Iterable[str]) -> str:
    """A hint: the nearest word that would do, or all of them."""
    names = sorted(known)
    close = difflib.get_close_matches(word, names, n=1)
    return f"Did you mean “{close[0]}”?" if close else f"There are: {', '.join(names)}."


def refuse(row: str, what: str, hint: str = "") -> ConventionError:
    """The error for one row, named as a person would find it in the file."""
    return ConventionError(f"In the convention, the row {row} {what}.", hint)


def build(table: dict[str, Any], source: str) -> Convention:
    """A checked convention.  Raises ConventionError naming the first row that is wrong."""
    _known("the file", table, TABLES)
    for name in TABLES:
        if name not in table:
            raise ConventionError(f"The convention {source} has no {name}.", "Add that part.")
    styles = {name: _style(name, row) for name, row in _rows(table, "style").items()}
    roles = tuple(_role(row, styles) for row in table["role"])
    convention = Convention(
        name=_text(table, "name"),
        title=_text(table, "title"),
        page=_record(Page, "page", table["page"]),
        volume=_record(Volumes, "volume", table["volume"]),
        front=_front(dict(_rows(table, "front"))),
        styles=styles,
        between=tuple(_pair(row, styles) for row in table["between"]),
        roles=roles,
        headings=_headings(_rows(table, "headings"), styles),
        relax=_relax(_rows(table, "turn")),
        notes={name: _wording("notes", name, row) for name, row in _rows(table, "notes").items()},
        rules=_rules(_rows(table, "rules")),
    )
    _reached(convention)
    return convention


def _rows(table: Mapping[str, Any], name: str) -> dict[str, Any]:
    rows = table[name]
    if not isinstance(rows, dict):
        raise refuse(name, "should be a table of rows")
    return rows


def _text(table: Mapping[str, Any], name: str) -> str:
    if not isinstance(table[name], str):
        raise refuse(name, "should be words in quotes")
    return str(table[name])


def _known(row: str, keys: Iterable[str], known: Iterable[str]) -> None:
    known = tuple(known)
    for key in keys:
        if key not in known:
            raise refuse(row, f"has an unknown key “{key}”", near(key, known))


def _one_of(row: str, key: str, value: str, known: Iterable[str]) -> None:
    known = tuple(known)
    if value not in known:
        raise refuse(row, f"has “{value}” as its {key}", near(str(value), known))


def _record(kind: type[T], row: str, values: object, **more: Any) -> T:
    """A frozen record from a row: every key known, of its type, and none missing."""
    if not isinstance(values, dict):
        raise refuse(row, "should be a table of keys")
    specs = {f.name: f for f in fields(kind) if f.name not in more}  # type: ignore[arg-type]
    _known(row, values, specs)
    ready: dict[str, Any] = dict(more)
    for name, spec in specs.items():
        if name not in values:
            if spec.default is MISSING:
                raise refuse(row, f"lacks the key “{name}”", "Add it.")
            continue
        value = values[name]
        _typed(row, name, value, _PYTHON[str(spec.type)])
        choice = WORDS.get((row.partition(".")[0], name), ())
        for word in (value if isinstance(value, list) else [value]) if choice else ():
            _one_of(row, name, word, choice)
        ready[name] = tuple(value) if isinstance(value, list) else value
    return kind(**ready)


def _typed(row: str, key: str, value: object, kind: type) -> None:
    if not isinstance(value, kind) or (kind is int and isinstance(value, bool)):
        wanted = {int: "a whole number", bool: "true or false", list: "a list"}.get(kind, "words")
        raise refuse(row, f"has a wrong “{key}”", f"It should be {wanted}.")
    if kind is int and isinstance(value, int) and value < 0:
        raise refuse(row, f"has a “{key}” below zero", "It should be 0 or more.")


def _style(name: str, row: object) -> Style:
    where = f"style.{name}"
    if not isinstance(row, dict):
        raise refuse(where, "should be a table of keys")
    values = dict(row)
    keep = values.pop("keep", {})
    if not isinstance(keep, dict):
        raise refuse(where, "has a wrong “keep”", "Write it as { whole = 1 }.")
    for rule, number in keep.items():
        _one_of(where, "keep rule", rule, KEEPS)
        _typed(where, rule, number, int)
    _known(where, values, (f.name for f in fields(Style)))
    style = _record(Style, where, values, name=name, keep=tuple(keep.items()))
    _one_of(where, "kind", style.kind, KINDS)
    for key, indent in (("indent", style.indent), ("more", style.more or "1-1")):
        if not _INDENT.fullmatch(indent):
            hint = "Write it as 3-1, nested, centred or previous+5."
            raise refuse(where, f"has “{indent}” as its {key}", hint)
    return style


def _role(row: object, styles: Mapping[str, Style]) -> Role:
    role = _record(Role, "role", row)
    where = f"role {role.node} {role.role}".strip()
    _one_of(where, "node", role.node, NODES)
    _one_of(where, "style", role.style, styles)
    return role


def _pair(row: object, styles: Mapping[str, Style]) -> Pair:
    pair = _record(Pair, "between", row)
    where = f"between {pair.after} and {pair.then}"
    _one_of(where, "style above", pair.after, (*styles, "*"))
    _one_of(where, "style below", pair.then, (*styles, "*"))
    if pair.blank not in (0, 1):
        raise refuse(where, f"asks for {pair.blank} blank lines", "It should be 0 or 1 (BF 1.9).")
    return pair


def _wording(table: str, name: str, row: object) -> Wording:
    return _record(Wording, f"{table}.{name}", row, name=name)


def _front(rows: dict[str, Any]) -> Front:
    words = rows.pop("words", {})
    if not isinstance(words, dict):
        raise refuse("front.words", "should be a table of rows")
    made = {name: _wording("front.words", name, row) for name, row in words.items()}
    front = _record(Front, "front", rows, wordings=made)
    for key in ("symbols_indent", "notes_indent"):
        if not _CELLS.fullmatch(indent := getattr(front, key)):
            raise refuse("front", f"has “{indent}” as its {key}", "Write it as 1-3.")
    return front


def _cited(row: str, values: dict[str, Any]) -> dict[str, Any]:
    if not isinstance(values.get("cite"), str):
        raise refuse(row, "lacks the key “cite”", "Name the section it follows.")
    return {key: value for key, value in values.items() if key != "cite"}


def _headings(rows: dict[str, Any], styles: Mapping[str, Style]) -> tuple[tuple[str, ...], ...]:
    table = _cited("headings", rows)
    out: list[tuple[str, ...]] = []
    for count in range(1, len(table) + 1):
        names = table.get(str(count))
        if not isinstance(names, list) or len(names) != count:
            raise refuse(f"headings.{count}", f"should list {count} styles")
        for name in names:
            _one_of(f"headings.{count}", "style", name, styles)
        out.append(tuple(names))
    if not out:
        raise refuse("headings", "is empty", "Give at least the row for works of one rank.")
    return tuple(out)


def _relax(rows: dict[str, Any]) -> tuple[str, ...]:
    table = _cited("turn", rows)
    _known("turn", table, ("relax",))
    names = table.get("relax", [])
    for name in names:
        _one_of("turn.relax", "rule", name, KEEPS)
    for rule in KEEPS:
        if rule not in names:
            raise refuse("turn.relax", f"lacks the rule “{rule}”", "Give every rule its turn.")
    return tuple(names)


def _rules(rows: dict[str, Any]) -> dict[str, Any]:
    table = _cited("rules", rows)
    _known("rules", table, RULES)
    for name, kind in RULES.items():
        if name not in table:
            raise refuse("rules", f"lacks the key “{name}”", "Add it.")
        _typed(f"rules.{name}", name, table[name], kind)
        if choice := WORDS.get(("rules", name)):
            _one_of("rules", name, table[name], choice)
    return {key: tuple(v) if isinstance(v, list) else v for key, v in table.items()}


def _reached(convention: Convention) -> None:
    """Every style the flow asks for is there, and every style there can be reached."""
    for name in ASKED:
        if name not in convention.styles:
            raise refuse(f"style.{name}", "is missing", "Add it, or extend bf2016, which has it.")
    used = {*ASKED, *(row.style for row in convention.roles)}
    used |= {name for ranks in convention.headings for name in ranks}
    for name in convention.styles:
        if name not in used:
            raise refuse(f"style.{name}", "is reached by no role and no heading", near(name, used))
    for node in NODES:
        if not any(row.node == node and not row.role for row in convention.roles):
            hint = "Add one without role."
            raise refuse("role", f"has no row for a {node} of any other role", hint)
