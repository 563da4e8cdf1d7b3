"""What the flow carries: the scope of a block, the work still to do, the items made so far.

The tree is walked with a list of steps instead of recursion, so that no depth of nesting in a
source can exhaust the program.  A step makes at most one item, as its last act: an item cut at a
print page turn leaves steps for its notes and its rest on top of the list.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import partial

from ..document.choices import NOTES, TYPEFORMS, choices_in, innermost
from ..document.nodes import (
    Added,
    Block,
    Document,
    Footnote,
    InlineGraphic,
    Inlines,
    NoteCall,
    PrintPage,
    PrintPageTurn,
    VerseLine,
)
from ..findings import WITHOUT_WORDS, Findings
from ..settings import Settings
from ..translation.cells import Cells
from .convention import Convention, Style
from .flow_runs import (
    NUMBERED,
    describe_graphics,
    drop_typeforms,
    enclose,
    name_choices,
    note,
    numbers_apart,
    plain_names,
    span_of,
    take_long_descriptions,
    visible,
)
from .flow_scan import Survey
from .items import Item
from .print_places import Places


@dataclass(frozen=True, slots=True)
class Scope:
    """Where a block stands.

    ``style`` is the style of plain paragraphs here; ``group`` the list, table, poem or exercise
    set; ``level`` of ``levels`` the depth of nesting, ``further`` that a first paragraph of the
    item has been given.  ``shift`` moves both margins right by so many cells; ``margins``
    replaces them.  ``note``: inside a transcriber's note.  ``boxes`` counts boxes around.
    ``listed`` is the kind of the list around, ``alphabetic`` inside a glossary or an index,
    ``title`` on a title page of print.
    """

    style: str = ""
    group: str | None = None
    level: int = 0
    levels: int = 0
    further: bool = False
    shift: int = 0
    margins: tuple[int, int] | None = None
    note: bool = False
    boxes: int = 0
    division: str = "body"
    listed: str = ""
    alphabetic: bool = False
    title: bool = False


# Kinds of text that long descriptions of pictures do not interrupt.
WORDED = frozenset(("para", "list", "displayed", "exercise", "glossary", "note"))
LEAST_ROOM = 11  # Cells for words right of the deepest margin (common practice, no source).
Step = Callable[[], None]
Task = Step | tuple[Block | VerseLine, Scope]


def _file_of(resource: str) -> str:
    return resource.rsplit("/", 1)[-1]


@dataclass(slots=True)
class Flow:
    """The state of one walk."""

    document: Document
    convention: Convention
    settings: Settings
    findings: Findings
    survey: Survey
    items: list[Item] = field(default_factory=list)
    tasks: list[Task] = field(default_factory=list)
    pending: list[Footnote] = field(default_factory=list)
    noted: set[int] = field(default_factory=set)
    last: Item | None = None
    turns: list[Item] = field(default_factory=list)
    blank_due: bool = False
    owed: int = 0
    page_due: bool = False
    left_due: bool = False
    volume_due: bool = False
    noting: bool = False
    body_begun: bool = False
    measure: Callable[[Inlines], Cells] | None = None
    wordless: set[str] | None = None
    here: int = 0
    noted_here: bool = False
    frame: int = 0
    places: Places = field(default_factory=Places)

    # ------------------------------------------------------------ work to do

    def push(self, tasks: Iterable[Task]) -> None:
        """Do these next, in this order."""
        self.tasks.extend(reversed(list(tasks)))

    def push_blocks(self, blocks: Iterable[Block | VerseLine], scope: Scope) -> None:
        """Flow these blocks next, in this order."""
        self.push([(block, scope) for block in self.set_in(blocks)])

    def set_in(self, blocks: Iterable[Block | VerseLine]) -> list[Block | VerseLine]:
        """The blocks with what their print pages ask for (see ``print_places``)."""
        return self.places.set_in(blocks)

    @property
    def by_page(self) -> bool:
        """Whether notes go to the end of the print page (BF 16)."""
        return self.survey.has_pages and self.notes_stand == "page"

    @property
    def notes_stand(self) -> str:
        """Where notes go here: as a person says of this place, of the document, or as the
        convention has it: ``page``, ``paragraph``, ``section`` or ``book``."""
        chosen = innermost(self.document.choices, self.here, NOTES) if self.noted_here else ""
        return chosen or self.settings.notes or str(self.convention.rules["notes_at"])

    @property
    def widest(self) -> int:
        """The last cell a margin may take, so that deep nesting leaves room for words."""
        cells = self.settings.cells or self.convention.page.cells
        room = max(cells // 2, cells - LEAST_ROOM)
        return max(5, min(2 * int(self.convention.rules["deepest"]) + 3, room))

    # ------------------------------------------------------------ pictures without words

    def is_told(self, resource: str) -> bool:
        """Whether the reader has told already that this picture has no words."""
        if self.wordless is None:
            told = (f for f in self.findings.items if f.kind in WITHOUT_WORDS)
            self.wordless = {_file_of(str(value)) for f in told for _, value in f.facts}
        return (_file_of(resource) or "without a file") in self.wordless

    def left_out(self, resource: str, decorative: bool) -> None:
        """File that a picture is left out, once (BF 6.4)."""
        if decorative:
            self.findings.add("layout.picture-decorative")
        elif not self.is_told(resource):
            self.findings.add("layout.picture-omitted", resource=resource)

    # ------------------------------------------------------------ making items

    def put(self, name: str, runs: Inlines, scope: Scope, element: str = "") -> None:
        """Make an item of a style row; nothing is made of inlines that show nothing."""
        ledger = self.document.ledger
        for run in runs:
            if isinstance(run, InlineGraphic) and not visible((run,), ledger):
                self.left_out(run.resource, run.decorative)
        if not self.survey.has_pages:
            runs = tuple(run for run in runs if not isinstance(run, PrintPageTurn))
        if not visible(runs, ledger):
            self._lift_turns(runs, element, scope.division)
            return
        if self.survey.numbers and name != NUMBERED:
            runs = numbers_apart(runs, ledger)
        style = self.convention.style(name)
        runs = plain_names(runs, self.survey.speakers, ledger, style.kind == "speech")
        runs = self._choices(self._pictures(runs, style, scope), scope)
        runs = self.upright(runs, name, style.typeforms)
        if scope.note:
            runs = enclose(runs)
        span = span_of(runs)
        self.here = span[0] if span else self.here
        self.place(self._item(style, runs, scope, element))
        if self.pending and not self.noting and not scope.group and self.notes_stand == "paragraph":
            self.push(self.note_steps(Scope(division=scope.division)))

    def upright(self, runs: Inlines, name: str, how: str) -> Inlines:
        """The inlines without the typeforms that style ``name`` ignores, with a finding; all of
        them where a person keeps them."""
        span = span_of(runs)
        if span and choices_in(self.document.choices, *span, TYPEFORMS):
            return runs
        out, dropped = drop_typeforms(runs, how, self.document.ledger, self.survey.speakers)
        if dropped:
            self.findings.add("layout.typeform-dropped", span_of(out), style=name)
        return out

    def _pictures(self, runs: Inlines, style: Style, scope: Scope) -> Inlines:
        """Pictures inside text as embedded notes; a description of more than a few words is a
        paragraph of its own, next, as no illustration stands inside one (BF 3.1.4, 6.2)."""
        if style.kind not in WORDED or not any(isinstance(run, InlineGraphic) for run in runs):
            return describe_graphics(runs)
        most = int(self.convention.rules["note_words"])
        wording = self.convention.notes["picture"].words
        runs, long = take_long_descriptions(runs, self.document.ledger, most, wording.strip(" :"))
        here = replace(scope, margins=None, level=0, levels=0, further=False, note=True)
        self.push(
            [partial(self.put, "description", (Added(wording), words), here) for words in long]
        )
        return describe_graphics(runs)

    def _choices(self, runs: Inlines, scope: Scope) -> Inlines:
        """Drop-down lists with their entries as embedded notes; long notes are paragraphs of their
        own, next (BF 3.1.4)."""
        runs, long = name_choices(runs, int(self.convention.rules["note_words"]))
        here = replace(scope, group=None, margins=None, level=0, levels=0, further=False)
        lead = self.convention.notes["choices"].words
        self.push([partial(self.put, "description", note(lead + words), here) for words in long])
        return runs

    def _item(self, style: Style, runs: Inlines, scope: Scope, element: str) -> Item:
        deepest = int(self.convention.rules["deepest"])
        level, levels = min(scope.level, deepest), min(scope.levels, deepest)
        margins = scope.margins or style.margins(max(1, level), max(1, levels), scope.further)
        shift = max(0, min(scope.shift, self.widest - max(margins)))
        first, runover = (min(cell + shift, self.widest) for cell in margins)
        return Item(
            kind=style.kind,
            style=style.name,
            runs=runs,
            first=first,
            runover=runover,
            centred=style.centred,
            level=scope.level,
            levels=scope.levels,
            element=element or None,
            group=scope.group,
            keep=style.keep,
            indent_from_previous=style.from_previous,
            division=scope.division,
            right=style.right,
        )

    def line(self, name: str, scope: Scope, element: str = "") -> Item:
        """Make an item without words: a line of a box, the note separation line."""
        item = self._item(self.convention.style(name), (), scope, element)
        self.add(item)
        return item

    def place(self, item: Item) -> None:
        """Add an item, cut where a print page with notes ends inside it (BF 16.4)."""
        for at, run in enumerate(item.runs):
            if isinstance(run, NoteCall):
                self.call(run.target)
            elif isinstance(run, PrintPageTurn) and self.pending and self.by_page:
                head = item.runs[:at]
                continued = item.continued or visible(head, self.document.ledger)
                if continued and item.kind.startswith("h-"):
                    self._place_whole(item)
                    return
                rest = replace(item, runs=item.runs[at + 1 :], continued=continued)
                rest.first = item.runover if continued else item.first
                scope = Scope(division=item.division)
                turn = self.turn_step(run.label, item.element or "", scope)
                self.push([turn, partial(self.place, rest)])
                item = replace(item, runs=head)
                break
        if visible(item.runs, self.document.ledger):
            self.add(item)
        elif item.runs:
            self._lift_turns(item.runs, item.element or "", item.division)

    def _place_whole(self, item: Item) -> None:
        """A heading in which a print page with notes ends stands whole on that page; the notes and
        the turn follow it (BF 1.4.2, 4.2.5)."""
        runs = tuple(run for run in item.runs if not isinstance(run, PrintPageTurn))
        for run in runs:
            if isinstance(run, NoteCall):
                self.call(run.target)
        self._lift_turns(item.runs, item.element or "", item.division)
        self.add(replace(item, runs=runs))

    def _lift_turns(self, runs: Inlines, element: str, division: str) -> None:
        """Print page turns of a block that shows nothing else stand between blocks."""
        turns = [run for run in runs if isinstance(run, PrintPageTurn)]
        scope = Scope(division=division)
        self.push([self.turn_step(turn.label, element, scope) for turn in turns])

    def add(self, item: Item) -> None:
        """Add an item and agree on the blank lines with the one before."""
        style = self.convention.style(item.style)
        blank, needs = self._agree(item, style)
        if self.blank_due:
            self.blank_due = False
            if self.last is not None:
                blank, needs = 1, True
        item.needs_before = needs
        if self.turns and not needs:
            self.turns[0].before = blank
        else:
            item.before = blank
        self._begin_page(item)
        item.new_volume, self.volume_due = self.volume_due, False
        self.turns, self.last = [], item
        self.body_begun = self.body_begun or item.division == "body"
        self.items.append(item)

    def _begin_page(self, item: Item) -> None:
        item.new_page, item.left_page = self.page_due, self.left_due
        self.page_due = self.left_due = False

    def _agree(self, item: Item, style: Style) -> tuple[int, bool]:
        """Blank lines above, and whether this item's own style asks for them."""
        last = self.last
        if last is None:
            return 0, style.before > 0
        same = item.group is not None and item.group == last.group
        blank = self.convention.gap(last.style, item.style)
        if item.continued:
            return 0, False
        above = self.convention.style(last.style)
        # Below the source of some matter stands the blank line due below the matter (BF 9.5).
        due, self.owed = max(above.after, self.owed), 0
        if style.name == "source":
            self.owed = due
        if blank is None and same:
            blank = style.before if style.within is None else style.within
            blank = max(blank, above.after if above.within is None else 0)
        if blank is None:
            blank = max(due, style.before)
        return min(1, blank), blank > 0 and (style.before > 0 or same)

    # ------------------------------------------------------------ print pages and notes

    def turn_step(self, label: str | None, element: str, scope: Scope) -> Step:
        """A step that ends the print page: its notes, then the turn to page ``label``."""

        def turn() -> None:
            style = self.convention.style("page-turn")
            item = self._item(style, (), Scope(division=scope.division), element)
            item.page = (label,)
            if self.pending and self.by_page:
                self.push([*self.note_steps(scope), partial(self._add_turn, item)])
            else:
                self._add_turn(item)

        return turn

    def _add_turn(self, item: Item) -> None:
        self._begin_page(item)
        self.turns.append(item)
        self.items.append(item)

    def turn(self, node: PrintPage, scope: Scope) -> None:
        """A print page begins between blocks; unless the convention shows none."""
        if self.survey.has_pages:
            self.turn_step(node.label, node.address, scope)()

    def call(self, target: str) -> None:
        """Print calls a note here: its body is due at the end of this print page."""
        note = self.survey.notes.get(target)
        if note is not None:
            self.due(note)

    def due(self, note: Footnote) -> None:
        """A note waits for the end of the page; each only once."""
        if id(note) not in self.noted:
            self.noted.add(id(note))
            self.pending.append(note)

    def note_steps(self, scope: Scope) -> list[Task]:
        """Steps for the notes now due, after a separation line; what stood above them still
        counts as the item before for what follows; a new page that is due begins after them."""
        from .flow_notes import body_tasks

        notes, self.pending = self.pending, []
        above, asked, self.page_due = self.last, self.page_due, False
        inner = Scope(style="note", group=f"notes {len(self.items)}", division=scope.division)

        def rule() -> None:
            if not self.noting:
                self.line("note-rule", replace(inner, group=None))
            self.noting = True

        def finish() -> None:
            if self.pending:
                self.push([*self.note_steps(scope), finish])
                return
            self.noting, self.page_due = False, asked or self.page_due
            if self.by_page:
                self.last = above
            else:
                self.blank_due = True

        return [rule, *(task for body in notes for task in body_tasks(self, body, inner)), finish]
