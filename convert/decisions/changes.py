"""What each verb does: a plan for nodes of the tree, or a choice for a later room.

An action gets the decision and its targets.  It returns a sentence where it can do nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any

from ..document.choices import Choice
from ..document.nodes import (
    TRANSCRIBER_NOTE,
    TYPEFORM_BITS,
    Added,
    Document,
    Graphic,
    InlineGraphic,
    Inlines,
    ListItem,
    Omission,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Run,
    TranscriberNote,
    walk,
)
from ..findings import Findings, Span
from .anchor import Target
from .index import Index, stretches
from .inlines import (
    answer_space,
    change_runs,
    leave_out,
    note_in_line,
    page_turn,
    put_in,
)
from .record import Decision
from .shapes import shape_of
from .tree import Plan

Action = Callable[["Work", Decision, tuple[Target, ...]], str]
OMITTED, REPLACED = "decision.omitted", "decision.replaced"
_KEEP = {"together": "keep-together", "with-next": "keep-with-next"}
_BREAK = {"page": "page-before", "volume": "volume-before"}


@dataclass(slots=True)
class Work:
    """What decisions have gathered so far: plans by node, choices, what was left out."""

    index: Index
    findings: Findings
    plans: dict[int, Plan] = field(default_factory=dict)
    choices: list[Choice] = field(default_factory=list)
    gone: dict[str, list[Span]] = field(default_factory=dict)

    def plan(self, node: Any) -> Plan:
        """The plan of a node."""
        return self.plans.setdefault(id(node), Plan())

    def out(self, why: str) -> list[Span]:
        """Takes the stretches left out for a reason of the catalogue."""
        return self.gone.setdefault(why, [])

    def omissions(self) -> tuple[Omission, ...]:
        """What was left out, in the order of print."""
        found = [
            Omission(start, end, why)
            for why, spans in self.gone.items()
            for start, end in spans
            if start < end
        ]
        return tuple(sorted(found, key=lambda one: (one.start, one.end)))

    def added(self, text: str, span: Span) -> None:
        """Tell of words that print does not have."""
        self.findings.add("decision.words-added", span, words=text[:200])


# ---------------------------------------------------------------- roles, what is left out


def shape(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``heading`` and ``treat-as``."""
    for target in targets:
        work.plan(target.node).shape = shape_of(decision)
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
        change = answer_space(target.span, decision.word("kind"), [])
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


def picture(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``describe`` and ``decorative``."""
    text = decision.word("text")
    decorative = decision.verb == "decorative"
    why = OMITTED if decorative else REPLACED
    for target in targets:
        if target.inline is not None:
            _picture_in_line(work, target, text)
        elif isinstance(target.node, Graphic):
            work.out(why).extend(stretches(target.node))
            alt: Inlines = () if decorative else (Added(text),)
            work.plan(target.node).shape = partial(_described, alt=alt, decorative=decorative)
        if decorative:
            words = work.index.words(target.node, 80)
            work.findings.add(OMITTED, target.span, words=words, why=decision.why or "decorative")
        else:
            work.added(text, target.span)
    return ""


def _described(node: Graphic, alt: Inlines, decorative: bool) -> tuple[Graphic, ...]:
    return (replace(node, alt=alt, decorative=decorative),)


def _picture_in_line(work: Work, target: Target, text: str) -> None:
    """A picture in a line becomes the note that describes it, or nothing."""
    old: InlineGraphic = target.inline
    work.out(REPLACED).append((old.start, old.end))
    new: Inlines = (Added(text, TRANSCRIBER_NOTE),) if text else ()

    def change(inlines: Inlines) -> Inlines:
        return tuple(x for inline in inlines for x in (new if inline is old else (inline,)))

    work.plan(target.node).inline.append(change)


def insert_note(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``insert-note``: a transcriber's note beside a block, or inside a line."""
    text = decision.word("text")
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


# ---------------------------------------------------------------- runs of a stretch


def language(work: Work, decision: Decision, targets: tuple[Target, ...]) -> str:
    """``language``: of a stretch, of a block with all in it, of a word everywhere."""
    lang = decision.word("lang").lower()
    lang = "" if lang == "none" else lang
    for target in targets:
        _on_runs(work, target, lambda run: replace(run, lang=lang))
    return ""


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
    get, order = decision.word, decision.get("order")
    kind, value = {
        "table-format": ("table-format", get("form")),
        "column-order": ("column-order", " ".join(order) if isinstance(order, tuple) else ""),
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
    "insert-note": insert_note,
    "language": language,
    "typeform": typeform,
    "read": read,
    "print": print_text,
    "answer-space": answer,
    "table-format": layout,
    "column-order": layout,
    "break-before": layout,
    "keep": layout,
    "blank-before": layout,
    "print-page": print_page,
    "contents": layout,
    "math-code": formula,
    "math-text": formula,
}
