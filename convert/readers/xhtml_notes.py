"""Notes: which marks call which notes, found before the walk; calls and bodies in it."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from lxml import etree

from ..document.ledger import GENERATED
from ..document.nodes import SUP, Footnote, Inline, NoteCall, Paragraph, Run
from .opf import Book, resolve
from .plans import TYPE, local_name
from .roles import INLINE_DOES, element_does, find_role, terms_of
from .xhtml import Handler, Here, Walker
from .xhtml_blocks import address_of, fresh, run_of
from .xhtml_lists import Numbering, marker_text

_MARK = re.compile(r"[\[(]?(?:\d{1,3}|[*†‡§¶‖#]{1,3}|[a-z])[\])]?")
_BLOCKS = ("p", "li", "div", "aside", "dd", "td")
_BRACKETS = "[]() .:"
_CLASS_OF_NOTE = etree.XPath("//*[contains(@class, 'note')]")


def find_notes(walker: Walker, book: Book, roots: dict[str, etree._Element]) -> None:
    """Pair calls with notes.

    A call is what the source marks as one, or a number, letter or sign that links to what it marks
    as a note; else a raised one that links to a block in the text (common practice in EPUB 2, no
    source), which a finding tells.  Of two links to each other the first in reading order is the
    call.
    """
    walker.classed_notes = known = _classed(roots)
    by_id: dict[tuple[str, str], etree._Element] = {}
    for part, root in roots.items():
        for element in root.iter("{*}a"):
            href = element.get("href", "")
            marked = _is_marked(element)
            if "#" not in href or not (marked or known or _is_raised_mark(element)):
                continue
            name, ident = resolve(book.package, part, href)
            if name not in roots:
                continue
            words = "".join(str(t) for t in element.itertext()).strip()
            if not marked and f"{name}#{ident}" in known and _MARK.fullmatch(words):
                walker.note_calls[element] = f"{name}#{ident}"
                marked = True
            elif not (marked or _is_raised_mark(element)):
                continue
            if not marked and not _guess(walker, (part, element), (name, ident), by_id, roots):
                continue
            walker.call_texts.setdefault(f"{name}#{ident}", words)


def _classed(roots: dict[str, etree._Element]) -> set[str]:
    """The ids of what a class makes a note: of a definition list, those of its terms."""
    found: set[str] = set()
    for part, root in roots.items():
        for element in _CLASS_OF_NOTE(root):
            role = find_role((), element.get("class", ""))
            if role is not None and role.node == "note":
                terms = element.iterchildren("{*}dt") if _is_list(element) else (element,)
                found.update(f"{part}#{ident}" for each in terms if (ident := each.get("id")))
    return found


def _is_list(element: etree._Element) -> bool:
    return local_name(str(element.tag)) == "dl"


def _is_marked(element: etree._Element) -> bool:
    kind, role = element.get(TYPE, ""), element.get("role", "")
    return ("noteref" in kind or "noteref" in role or "annoref" in kind) and (
        (found := find_role(terms_of(kind, role), "")) is not None and found.node == "call"
    )


def _is_raised_mark(element: etree._Element) -> bool:
    words = "".join(str(t) for t in element.itertext()).strip()
    if not _MARK.fullmatch(words) or element.get(TYPE) or element.get("role"):
        return False
    above = element.getparent()
    near = [above, *element] if above is not None else [*element]
    return any(local_name(str(e.tag)) == "sup" for e in near)


def _guess(
    walker: Walker,
    call: tuple[str, etree._Element],
    target: tuple[str, str],
    by_id: dict[tuple[str, str], etree._Element],
    roots: dict[str, etree._Element],
) -> bool:
    """Take an unmarked link as a note call if a block of text answers to it."""
    if not by_id:
        for part, root in roots.items():
            for element in root.iter("{*}*"):
                if ident := element.get("id"):
                    by_id.setdefault((part, ident), element)
    block: etree._Element | None = by_id.get(target)
    while block is not None and local_name(str(block.tag)) not in _BLOCKS:
        block = block.getparent()
    here = call[1]
    if block is None or any(above is block for above in here.iterancestors()):
        return False
    if any(inside in walker.note_calls for inside in block.iter("{*}a")):
        return False
    if next(block.iter("{*}h1", "{*}h2", "{*}h3", "{*}table"), None) is not None:
        return False
    ident = f"{target[0]}#{target[1]}"
    walker.note_calls[here] = ident
    walker.note_blocks.setdefault(block, ident)
    return True


def note_id(walker: Walker, here: Here) -> str:
    """The id calls use for a note, or an empty string."""
    known = walker.note_blocks.get(here.element)
    if known:
        return known
    ident = here.attrs.get("id", "")
    return f"{walker.part}#{ident}" if ident else ""


def call(walker: Walker, here: Here) -> None:
    """A mark that calls a note."""
    text = walker.text
    if _swallows(here.element):
        walker.inside(here)
        return
    kept, text.runs = text.runs, []
    start = walker.ledger.length
    walker.inside(here)
    inner, text.runs = text.runs, kept
    text.spaced = False
    spans = [run for run in inner if type(run) is list]
    if not spans:
        text.runs.extend(inner)
        return
    href = here.attrs.get("href", "")
    name, ident = resolve(walker.book.package, walker.part, href) if href else ("", "")
    look = spans[0][2]
    target = walker.note_calls.get(here.element) or (f"{name}#{ident}" if ident else "")
    if here.element in walker.note_calls and target not in walker.classed_notes:
        walker.findings.add("read.note-guessed", (start, walker.ledger.length))
    mark = NoteCall(spans[0][0], spans[-1][1], target, look.typeform & ~SUP)
    text.put(mark, f"{here.path}/1")
    text.runs.extend(run for run in inner if type(run) is not list)


def _swallows(element: etree._Element) -> bool:
    """Whether broken markup lets a mark hold what follows it: blocks, or another link."""
    names = [local_name(str(e.tag)) for e in element.iter()]
    return "a" in names[1:] or any(element_does(name) not in INLINE_DOES for name in names)


def note(walker: Walker, here: Here) -> None:
    """The body of a note, where the source puts it; of a definition list, a note for each term."""
    walker.flush()
    around = walker.around
    if _is_list(here.element):
        walker.out.extend(_listed(walker, here, walker.collect(here, fresh(around))))
        return
    mark: tuple[Inline, ...] = ()
    numbering: Numbering | None = around.numbering
    if here.plan.tag == "li" and numbering is not None:
        words = marker_text(here.plan.marker or numbering.style, numbering.value)
        numbering.value += numbering.step
        mark = run_of(walker.ledger.add(words, walker.part, here.path, 0, GENERATED))
        walker.ledger.end_block()
    out = walker.collect(here, fresh(around))
    address = address_of(walker, here)
    ident = note_id(walker, here) or address
    if not mark and out:
        mark, out = _take_mark(walker, here, ident, out)
    is_end = here.plan.role == "end" or around.list_role == "notes"
    kind = "end" if is_end else "foot"
    walker.out.append(
        Footnote(id=ident, mark=mark, children=tuple(out), kind=kind, address=address)
    )


def _listed(walker: Walker, here: Here, out: list[Any]) -> list[Any]:
    """Notes of a definition list: a term is the mark of the note, as tools that make books of
    technical documents write them (common practice, no source)."""
    places = [f"{walker.part}!{here.path}/{2 * at}" for at in range(1, len(here.element) + 1)]
    idents = {
        place: f"{walker.part}#{ident}"
        for place, kid in zip(places, here.element, strict=True)
        if (ident := kid.get("id"))
    }
    notes: list[Any] = []
    for block in out:
        if isinstance(block, Paragraph) and block.role == "term":
            ident = idents.get(block.address, block.address)
            below = places[places.index(block.address) + 1 :] if block.address in places else []
            address = below[0] if below else block.address  # Its definition, which holds all of it.
            notes.append(Footnote(id=ident, mark=block.runs, children=(), address=address))
        elif notes and isinstance(last := notes[-1], Footnote):
            if isinstance(block, Paragraph) and block.role == "definition":
                block = replace(block, role="body")
            notes[-1] = replace(last, children=(*last.children, block))
        else:
            notes.append(block)
    return notes


def _take_mark(
    walker: Walker, here: Here, ident: str, out: list[Any]
) -> tuple[tuple[Inline, ...], list[Any]]:
    """The mark printed at the start of a note, where it is the mark of the call."""
    sign = walker.call_texts.get(ident, "").strip(_BRACKETS)
    first = out[0]
    raw = "".join(str(t) for t in here.element.itertext()).lstrip()
    if not sign or not isinstance(first, Paragraph) or not first.runs:
        return (), out
    found = re.match(r"[\[(]?" + re.escape(sign) + r"[\])]?[.:]?(?=\s|$|\w)", raw)
    start = getattr(first.runs[0], "start", None)
    if found is None or start is None:
        return (), out
    end = start + found.end()
    mark = tuple(run for run in first.runs if isinstance(run, Run) and run.end <= end)
    rest: list[Inline] = [
        run for run in first.runs if not (isinstance(run, Run) and run.end <= end)
    ]
    if rest and isinstance(head := rest[0], Run) and head.start < end:
        mark = (*mark, replace(head, end=end))
        rest[0] = replace(head, start=end)
    if not mark or any(isinstance(r, NoteCall) for r in first.runs[: len(mark)]):
        return (), out
    kept = [replace(first, runs=tuple(rest))] if rest else []
    return mark, [*kept, *out[1:]]


HANDLERS: dict[str, Handler] = {"call": call, "note": note}
