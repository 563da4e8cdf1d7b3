"""The passes that put a tree in order: none loses a run."""

from __future__ import annotations

from convert.document.ledger import LedgerBuilder
from convert.document.nodes import (
    ITALIC,
    AnswerSpace,
    Block,
    Document,
    Footnote,
    Graphic,
    Inline,
    ListBlock,
    ListItem,
    NoteCall,
    Paragraph,
    PrintPage,
    PrintPageTurn,
    Run,
    Table,
    TableEntry,
    TableRow,
    inlines_of,
    text_of,
    walk,
)
from convert.document.tidy import tidy
from convert.findings import Findings


def document(*parts: object) -> tuple[Document, Findings]:
    """A document of one paragraph: strings become runs, (text, typeform) pairs too."""
    builder = LedgerBuilder()
    runs: list[Inline] = []
    for part in parts:
        if isinstance(part, str):
            runs.append(Run(*builder.add(part, "c.xhtml", "/2")))
        elif isinstance(part, tuple):
            runs.append(Run(*builder.add(part[0], "c.xhtml", "/2"), typeform=part[1]))
        else:
            runs.append(part)  # type: ignore[arg-type]
    builder.end_block()
    found = Findings()
    whole = Document(ledger=builder.build(), children=(Paragraph(runs=tuple(runs)),))
    return tidy(whole, found), found


def shown(doc: Document) -> list[str]:
    out = []
    for node in walk(doc):
        if isinstance(node, Paragraph):
            out.append(
                "".join(
                    f"[{r.label}]" if isinstance(r, PrintPageTurn) else text_of((r,), doc.ledger)
                    for r in node.runs
                )
            )
        elif isinstance(node, PrintPage):
            out.append(f"page {node.label}")
    return out


def test_a_word_cut_into_runs_is_one_run() -> None:
    doc, _ = document("un", "hap", "py")
    (para,) = doc.children
    assert inlines_of(para) == (Run(0, 7),)


def test_runs_that_differ_stay_apart() -> None:
    doc, _ = document("un", ("happy", ITALIC))
    assert len(inlines_of(doc.children[0])) == 2


def test_a_turn_inside_a_word_moves_to_its_end() -> None:
    """BF 1.4.11 (default): the word stays whole on the earlier print page."""
    doc, found = document("the lan", PrintPageTurn("9"), "tern shone")
    assert shown(doc) == ["the lantern[9] shone"]
    assert [f.kind for f in found.all()] == ["read.turn-inside-word"]


def test_a_turn_at_either_end_of_a_paragraph_stands_between_blocks() -> None:
    doc, _ = document(PrintPageTurn("8"), "Rain. ", PrintPageTurn("9"))
    assert shown(doc) == ["page 8", "Rain. ", "page 9"]
    assert doc.print_pages == ("8", "9")


def test_an_empty_entry_of_a_table_is_no_space_between_paragraphs() -> None:
    """Only what makes space is told (BF 1.9); an empty entry is told with its table (BF 11.2)."""
    blank = Paragraph(runs=())
    rows = tuple(TableRow(entries=(TableEntry(children=(blank,)),) * 2) for _ in range(3))
    for blocks, told in (((Table(children=rows),), []), ((blank, Table(children=rows)), [1])):
        found = Findings()
        tidy(Document(ledger=LedgerBuilder().build(), children=blocks), found)
        kinds = [f for f in found.all() if f.kind == "read.empty-paragraphs"]
        assert [dict(f.facts)["number"] for f in kinds] == told


def test_a_paragraph_of_spaces_is_left_out_and_counted() -> None:
    doc, found = document("  ")
    assert doc.children == ()
    assert "read.empty-paragraphs" in {f.kind for f in found.all()}


def test_low_lines_are_one_answer_space() -> None:
    """UEB 7.2.3: one low line for each print blank, whatever its length."""
    doc, _ = document("Name ________, age ___.")
    kinds = [type(r).__name__ for r in inlines_of(doc.children[0])]
    assert kinds == ["Run", "AnswerSpace", "Run", "AnswerSpace", "Run"]
    spaces = [r for r in inlines_of(doc.children[0]) if isinstance(r, AnswerSpace)]
    assert [(s.start, s.end) for s in spaces] == [(5, 13), (19, 22)]


def test_one_low_line_is_a_sign_not_an_answer_space() -> None:
    doc, _ = document("the file river_notes")
    assert len(inlines_of(doc.children[0])) == 1


def test_a_turn_that_opens_a_list_item_stands_before_its_number() -> None:
    builder = LedgerBuilder()
    marker = Run(*builder.add("3.", "c.xhtml", "/2"))
    words = Run(*builder.add("Stop.", "c.xhtml", "/2"))
    para = Paragraph(runs=(PrintPageTurn("52"), words))
    block = ListBlock(children=(ListItem(children=(para,), marker=(marker,)),))
    doc = tidy(Document(ledger=builder.build(), children=(block,)), Findings())
    assert [type(n).__name__ for n in walk(doc)] == [
        "Document", "ListBlock", "PrintPage", "ListItem", "Paragraph",
    ]  # fmt: skip


def test_no_print_pages_is_said() -> None:
    _, found = document("Rain.")
    assert "read.no-print-pages" in {f.kind for f in found.all()}


def test_text_before_the_first_print_page_mark_is_said_where_it_fills_a_braille_page() -> None:
    """BF 1.11: books whose print has page numbers have them on every page; front matter that a
    file leaves without marks has none."""

    def told(words: str) -> list[tuple[str, str]]:
        builder = LedgerBuilder()
        preface, rest = (Run(*builder.add(said, "c", "/2")) for said in (words, "Rain."))
        kids = (Paragraph(runs=(preface,)), PrintPage(label="1"), Paragraph(runs=(rest,)))
        found = Findings()
        tidy(Document(ledger=builder.build(), children=kids), found)
        return [(f.kind, str(dict(f.facts).get("page"))) for f in found.all()]

    assert told("Title page") == []
    assert told("Preface. " * 120) == [("read.pages-begin-late", "1")]


def test_two_print_pages_in_a_row_with_one_number_are_said() -> None:
    """BF 1.11: as where the sections of a word document each count their pages from 1."""

    def told(*labels: str) -> list[str]:
        builder = LedgerBuilder()
        kids = [
            block
            for label in labels
            for block in (
                PrintPage(label=label),
                Paragraph(runs=(Run(*builder.add("Rain.", "c", "/2")),)),
            )
        ]
        found = Findings()
        tidy(Document(ledger=builder.build(), children=tuple(kids)), found)
        return [str(dict(f.facts)["page"]) for f in found.all() if f.kind == "read.page-repeated"]

    assert told("1", "2", "1") == []
    assert told("1", "1", "2") == ["1"]


def test_marks_and_notes_are_paired() -> None:
    builder = LedgerBuilder()
    call = NoteCall(*builder.add("1", "c.xhtml", "/2"), target="n1")
    mark = Run(*builder.add("2", "c.xhtml", "/4"))
    found = Findings()
    note = Footnote(id="n2", mark=(mark,), children=())
    tidy(Document(ledger=builder.build(), children=(Paragraph(runs=(call,)), note)), found)
    kinds = {f.kind for f in found.all()}
    assert {"read.mark-without-note", "read.note-without-mark"} <= kinds


def test_marks_that_lead_nowhere_are_all_counted() -> None:
    """BF 16: a few are told one by one; of many there is one finding, with every place."""

    def told(many: int) -> list[tuple[str, int, str]]:
        builder = LedgerBuilder()
        calls = [NoteCall(*builder.add(str(n), "c", "/2"), target="") for n in range(1, many + 1)]
        found = Findings()
        tidy(Document(ledger=builder.build(), children=(Paragraph(runs=tuple(calls)),)), found)
        rows = [f for f in found.all() if "without-note" in f.kind]
        return [(f.kind, len(f.spans), f.message) for f in rows]

    assert [row[:2] for row in told(2)] == [("read.mark-without-note", 1)] * 2
    ((kind, places, message),) = told(7)
    assert (kind, places) == ("read.marks-without-notes", 7)
    assert message.startswith("7 note marks, from “1” to “7”, have no note")


def lists_parted_by_an_empty_line(*markers: tuple[str, str]) -> list[int]:
    """How many items the lists have that stay; each pair is (kind, marker), an item a list."""
    builder = LedgerBuilder()
    blocks: list[Block] = []
    for kind, marker in markers:
        mark = (Run(*builder.add(marker, "a", "/2")),)
        words = Paragraph(runs=(Run(*builder.add("word", "a", "/4")),))
        builder.end_block()
        item = ListItem(marker=mark, children=(words,))
        blocks += [ListBlock(children=(item,), kind=kind), Paragraph(runs=())]
    tidied = tidy(Document(ledger=builder.build(), children=tuple(blocks)), Findings())
    return [len(block.children) for block in tidied.children if isinstance(block, ListBlock)]


def test_lists_that_an_empty_line_parts_are_one() -> None:
    """BF 8.3: no blank line between items, whatever print shows; a new count is a new list."""
    assert lists_parted_by_an_empty_line(("bulleted", "•"), ("bulleted", "•")) == [2]
    assert lists_parted_by_an_empty_line(("numbered", "1."), ("numbered", "2.")) == [2]
    assert lists_parted_by_an_empty_line(("numbered", "(a)"), ("numbered", "(b)")) == [2]
    assert lists_parted_by_an_empty_line(("numbered", "1."), ("numbered", "1.")) == [1, 1]
    assert lists_parted_by_an_empty_line(("numbered", "2."), ("numbered", "a.")) == [1, 1]
    assert lists_parted_by_an_empty_line(("numbered", "1."), ("bulleted", "•")) == [1, 1]


def test_an_agency_may_keep_such_words_on_the_later_page() -> None:
    """BF 1.11: not confirmed, so a row of the convention."""
    doc, _ = document("the lan", PrintPageTurn("9"), "tern shone")
    assert shown(doc) == ["the lantern[9] shone"]
    builder = LedgerBuilder()
    runs = (Run(*builder.add("the lan", "c", "/2")), PrintPageTurn("9"),
            Run(*builder.add("tern shone", "c", "/2")))  # fmt: skip
    whole = Document(ledger=builder.build(), children=(Paragraph(runs=runs),))
    found = Findings()
    assert shown(tidy(whole, found, "after")) == ["the [9]lantern shone"]
    assert found.items[0].message.endswith("the whole word was kept on the page after.")


def pages(*labels: str | None) -> tuple[list[str], list[str]]:
    """What shows of pages with these labels, the second inside a paragraph, and the findings."""
    builder = LedgerBuilder()
    kids: list[Block] = []
    for at, label in enumerate(labels):
        run = Run(*builder.add(f"text {at}", "c", f"/{at}"))
        builder.end_block()
        if at == 1:
            more = Run(*builder.add(" more", "c", "/z"))
            kids.append(Paragraph(runs=(run, PrintPageTurn(label), more)))
        else:
            kids += [PrintPage(label=label), Paragraph(runs=(run,))]
    found = Findings()
    doc = tidy(Document(ledger=builder.build(), children=tuple(kids)), found)
    return list(doc.print_pages), [f.kind for f in found.all()]


def test_a_page_without_a_number_in_a_numbered_sequence_has_its_number() -> None:
    """BF 1.11: the implied number is used."""
    assert pages("5", None, "7") == (["5", "6", "7"], ["read.page-implied"])
    assert pages("5", None, None, "8")[0] == ["5", "6", "7", "8"]
    assert pages("5", None, "8")[0] == ["5", "", "8"]
    assert pages(None, None, "3")[0] == ["", "", "3"]
    assert pages("iv", None, "2")[0] == ["iv", "", "2"]
    assert pages("5", None)[0] == ["5", ""]


def test_a_description_with_the_words_of_the_caption_is_left_out() -> None:
    """BF 6.2: what a description adds to the caption; common practice, no source."""
    builder = LedgerBuilder()

    def runs(words: str) -> tuple[Run, ...]:
        found = (Run(*builder.add(words, "c", "/2")),)
        builder.end_block()
        return found

    def picture(alt: str, caption: str) -> Graphic:
        kids = (Paragraph(runs=runs(caption), role="caption"),)
        return Graphic(alt=runs(alt), resource="a.png", children=kids)

    kids = (picture("Map 5", "Map 5."), picture("Map of hills", "Map 6."))
    found = Findings()
    doc = tidy(Document(ledger=builder.build(), children=kids), found)
    assert [bool(kid.alt) for kid in doc.children if isinstance(kid, Graphic)] == [False, True]
    assert [doc.ledger.text[o.start : o.end] for o in doc.omissions] == ["Map 5"]
    assert found.items[0].kind == "read.alt-repeats-caption"
