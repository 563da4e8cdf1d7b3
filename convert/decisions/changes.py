"""What each verb does: a plan for nodes of the tree, or a choice for a later room.

An action gets the decision and its targets.  It returns a sentence where it can do nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from typing import Any

from ..document.choices import Choice
from ..document.nodes import (
    TYPEFORM_BITS,
    Added,
    Document,
    ListItem,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Run,
    TranscriberNote,
    walk,
)
from ..findings import Span
from .anchor import Target
from .index import Index, stretches
from .inlines import (
    answer_space,
    change_runs,
    leave_out,
    note_in_line,
    page_turn,
    put_in,
    restored,
)
from .pictures import picture, tactile
from .record import Decision
from .shapes import shape_of
from .splits import speech_of
from .work import OMITTED, REPLACED, Action, Work

_KEEP = {"together": "keep-together", "with-next": "keep-with-next"}
_BREAK = {"page": "page-before", "volume": "volume-before"}


# ---------------------------------------------------------------- roles, what is left out


def shape(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``heading`` and ``treat-as``."""
    ledger = work.index.ledger
    for target in targets:
        work.plan(target.node).shape = shape_of(decision, ledger)
        if decision.word("role") == "speech" and not speech_of(target.node, ledger):
            return "no name of a speaker stands at its beginning"
    return ""


def join(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``join``: a paragraph goes on in the next one."""
    for target in targets:
        if not isinstance(work.index.after(target.node), Paragraph):
            return "no paragraph follows it"
        work.plan(target.node).join = True
    return ""


def put_back(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``put-back``: print that was left out, in the line where it stood or as a paragraph."""
    for target in targets:
        start, end = target.span
        run = Run(start, end)
        work.back |= {
            (one.start, one.end)
            for one in work.index.document.omissions
            if start <= one.start and one.end <= end
        }
        low, high = work.index.extent[id(target.node)]
        if low < start < high:
            work.plan(target.node).inline.append(restored(work.index.ledger.text, run))
            continue
        node = work.index.block_of(target.node)
        block = Paragraph(runs=(run,), address=f"{node.address}#put-back")
        plan = work.plan(node)
        (plan.before if start < low else plan.after).append(block)
    return ""


def omit(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``omit``: a block, or a stretch of print."""
    for target in targets:
        start, end = target.span
        node = target.node
        if not target.whole:
            start, end = _with_space(work.index, node, target.span)
            work.plan(node).inline.append(leave_out((start, end), work.out(OMITTED)))
        else:
            node = _only_child(node, work.index)
            work.plan(node).omit = True
            inner = [span for kid in walk(node) for span in stretches(kid)]
            work.out(OMITTED).extend(inner)
            start = min((s for s, _ in inner), default=start)
        words = work.index.ledger.quote(start, min(end, start + 80))
        work.findings.add(OMITTED, (start, end), words=words, why=decision.why)
    return ""


def _with_space(index: Index, node: Any, span: Span) -> Span:
    """A stretch with the space before it, or after it at the start of a block, so that what is
    left has one space between words."""
    text = index.ledger.text
    low, high = index.extent[id(node)]
    start, end = span
    if start > low and text[start - 1] == " " and not text[end : end + 1].isalnum():
        return start - 1, end
    if start == low and end < high and text[end] == " ":
        return start, end + 1
    return span


def _only_child(node: Any, index: Index) -> Any:
    """The item of a list rather than its only block, so that no number is left alone."""
    above = index.parent.get(id(node))
    if isinstance(above, ListItem) and above.children == (node,):
        return above
    return node


def answer(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``answer-space``: print becomes room for an answer."""
    for target in targets:
        number = int(decision.word("number", "1"))
        change = answer_space(target.span, decision.word("kind"), number)
        work.plan(target.node).inline.append(change)
    return ""


def print_text(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``print``: other characters in the place of print."""
    text = decision.word("text")
    for target in targets:
        change = leave_out(target.span, work.out(REPLACED), (Added(text),))
        work.plan(target.node).inline.append(change)
        words = work.index.ledger.quote(*target.span)[:80]
        work.findings.add(REPLACED, target.span, words=words, text=text[:80])
    return ""


# ---------------------------------------------------------------- pictures and notes


def insert_note(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``insert-note``: a transcriber's note beside a block, or inside a line."""
    text = decision.word("text")
    if decision.word("where") == "notes-page":
        for target in targets:
            work.added(text, target.span)
        return choice(work, decision, targets, "notes-page", text)
    for target in targets:
        by_block = target.whole
        before = decision.word("where", "before" if by_block else "after") == "before"
        work.added(text, target.span)
        plan = work.plan(target.node)
        if not by_block:
            start, end = target.span
            plan.inline.append(note_in_line(start if before else end, text, before))
            continue
        words = Paragraph(runs=(Added(text),), address=f"{target.node.address}#note")
        note = TranscriberNote(children=(words,), address=f"{target.node.address}#note")
        (plan.before if before else plan.after).append(note)
    return ""


def capitals(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``capitals``: print typed in capitals, in other letters; print stays in the record."""
    for target in targets:
        first = True
        nodes = [target.node] if not target.whole else list(walk(target.node))
        for node in nodes:
            for start, end in list(stretches(node)):
                low, high = max(start, target.span[0]), min(end, target.span[1])
                words = work.index.ledger.text[low:high]
                if low >= high or not words.strip():
                    continue
                text = _lowered(words, first or decision.word("how") == "words")
                if decision.word("how") == "words":
                    text = " ".join(_lowered(word, True) for word in words.split(" "))
                first = False
                change = leave_out((low, high), work.out(REPLACED), (Added(text),))
                work.plan(node).inline.append(change)
                work.findings.add(REPLACED, (low, high), words=words[:80], text=text[:80])
    return ""


def _lowered(words: str, capital: bool) -> str:
    at = next((n for n, char in enumerate(words) if char.isalpha()), len(words))
    kept = words[: at + 1] if capital else ""
    return kept + words[len(kept) :].lower()


# ---------------------------------------------------------------- runs of a stretch


def language(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``language``: of a stretch, of a block with all in it, of a word everywhere; of the whole
    document, where print has no language of its own."""
    lang = decision.word("lang").lower()
    lang = "" if lang == "none" else lang
    for target in targets:
        whole = isinstance(target.node, Document)
        change = _unmarked if whole else _spoken
        _on_runs(work, target, partial(change, lang))
    return ""


def _spoken(lang: str, run: Run) -> Run:
    return replace(run, lang=lang)


def _unmarked(lang: str, run: Run) -> Run:
    return run if run.lang else replace(run, lang=lang)


def typeform(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``typeform``: dropped or set on a stretch, a block, a word everywhere, the whole work; or
    kept in a block whose style drops it."""
    if decision.word("how") == "keep":
        return choice(work, decision, targets, "typeform-keep")
    names = decision.get("form")
    bits = sum(TYPEFORM_BITS[name] for name in names) if isinstance(names, tuple) else 0
    drop = decision.word("how") == "drop"

    def change(run: Run) -> Run:
        form = run.typeform & ~bits if drop else run.typeform | bits
        return replace(run, typeform=form) if form != run.typeform else run

    for target in targets:
        _on_runs(work, target, change)
    return ""


def _on_runs(work: Work, target: Target, change: Callable[[Run], Run]) -> None:
    """Change the runs of a stretch, wherever in the tree they stand."""
    if not target.whole:
        work.plan(target.node).inline.append(change_runs(target.span, change))
        return
    for node in walk(target.node):
        if not isinstance(node, Document) and any(stretches(node)):
            work.plan(node).inline.append(change_runs(target.span, change))


# ---------------------------------------------------------------- print pages


def print_page(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``print-page``: another label, a page that begins here, or none that does."""
    word = decision.word("label")
    label = None if word == "unnumbered" else word
    keep = word != "none"
    for target in targets:
        plan = work.plan(target.node)
        if isinstance(target.inline, PrintPageTurn):
            plan.inline.append(page_turn(target.inline, label, keep))
        elif isinstance(target.node, PrintPage):
            new = (replace(target.node, label=label),) if keep else ()
            plan.shape = partial(_instead, new=new)
        elif not keep:
            return "no print page begins there"
        else:
            plan.inline.append(put_in(target.hit[0], (PrintPageTurn(label),)))
    return ""


def _instead(node: Any, new: tuple[Any, ...]) -> tuple[Any, ...]:
    return new


# ---------------------------------------------------------------- choices for later rooms


def choice(
    work: Work, decision: Decision, targets: tuple[Target, ...], kind: str = "", value: str = ""
) -> str:
    """A choice on the stretch of each target."""
    for target in targets:
        work.choices.append(Choice(*target.span, kind, value))
    return ""


def read(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``read``: how print is read."""
    return choice(work, decision, targets, decision.word("as"), decision.word("cells"))


def layout(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """The verbs that the formatter obeys."""
    get, order, words = decision.word, decision.get("order"), decision.get("words")
    kind, value = {
        "table-format": ("table-format", get("form")),
        "column-order": ("column-order", " ".join(order) if isinstance(order, tuple) else ""),
        "short-headings": ("short-headings", "\n".join(words) if isinstance(words, tuple) else ""),
        "table-note": ("table-note", get("text")),
        "notes": ("notes", get("stand")),
        "break-before": (_BREAK.get(get("of"), ""), ""),
        "keep": (_KEEP.get(get("how"), ""), ""),
        "blank-before": ("blank-before", get("lines")),
        "contents": ("contents-wording", get("text")),
    }[decision.verb]
    return choice(work, decision, targets, kind, value)


def formula(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``math-code`` and ``math-text``."""
    value = decision.word("code") or decision.word("text")
    if decision.verb == "math-text":
        for target in targets:
            work.added(value, target.span)
    return choice(work, decision, targets, decision.verb, value)


ACTIONS: Mapping[str, Action] = {
    "heading": shape,
    "treat-as": shape,
    "omit": omit,
    "describe": picture,
    "decorative": picture,
    "tactile": tactile,
    "insert-note": insert_note,
    "language": language,
    "typeform": typeform,
    "read": read,
    "print": print_text,
    "answer-space": answer,
    "capitals": capitals,
    "table-format": layout,
    "column-order": layout,
    "short-headings": layout,
    "table-note": layout,
    "notes": layout,
    "join": join,
    "put-back": put_back,
    "break-before": layout,
    "keep": layout,
    "blank-before": layout,
    "print-page": print_page,
    "contents": layout,
    "math-code": formula,
    "math-text": formula,
}
