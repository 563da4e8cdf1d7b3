"""Random documents of every structure, as the content of a web page: nested lists, boxes, notes,
tables, verse, plays, exercises, forms, glossaries and indexes, with print page changes inside
everything.  Headings go down one rank at a time, and sentences have an end."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import strategies as st

_WORDS = (
    "a be sea tide river winter harbour-light well-to-do keepers lighthouse 12 3,400 Tom Oaks "
    "grows, slowly. (then) “now” fifty-one"
)
WORD = st.sampled_from(_WORDS.split())
LONG = st.sampled_from(["Donaudampfschifffahrtsgesellschaft", "a" * 70, "x-" * 15 + "x"])
PHRASE = st.lists(WORD, min_size=1, max_size=7).map(" ".join)
TEXT = st.one_of(
    PHRASE,
    st.lists(WORD, min_size=5, max_size=60).map(" ".join),
    st.lists(st.one_of(WORD, WORD, WORD, LONG), min_size=1, max_size=12).map(" ".join),
)
SIZES = st.one_of(
    st.sampled_from([(40, 25), (12, 6), (30, 25), (28, 20), (32, 27), (40, 6), (17, 40)]),
    st.tuples(st.integers(12, 45), st.integers(6, 30)),
)


class Writer:
    """Writes one document: counts its print pages and notes, knows the rank of its headings."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw
        self.page = self.rank = 0
        self.notes: list[str] = []
        self.turns = {"none": 0, "few": 12, "many": 4}[
            draw(st.sampled_from(["none", "few", "many"]))
        ]

    def chance(self, most: int) -> bool:
        """True once in so many times."""
        return self.draw(st.integers(1, most)) == most

    def some(self, make: Callable[[], str], least: int, most: int) -> str:
        """So many pieces one after another."""
        return "".join(make() for _ in range(self.draw(st.integers(least, most))))

    def one_of(self, *makers: Callable[[], str]) -> str:
        """One piece of some kind."""
        return self.draw(st.sampled_from(makers))()

    def phrase(self) -> str:
        return self.draw(PHRASE)

    def turn(self) -> str:
        """A print page change, at times."""
        if not self.turns or not self.chance(self.turns):
            return ""
        self.page += self.draw(st.sampled_from([1, 1, 1, 1, 2]))
        return f'<span epub:type="pagebreak" title="{self.page}"/>'

    def words(self) -> str:
        """A sentence with what may stand in it."""
        text = f"The {self.draw(TEXT)}"
        if self.chance(6):
            text = f"{text} <i>{self.phrase()}</i> {self.phrase()}"
        if self.chance(10):
            number = len(self.notes) + 1
            note = f"<p>{number} {self.draw(TEXT)}.</p>"
            self.notes.append(f'<aside epub:type="footnote" id="n{number}">{note}</aside>')
            text += f'<a epub:type="noteref" href="#n{number}">{number}</a>'
        turn = self.turn()
        return f"{text} {turn}{self.phrase()} end." if turn else f"{text} end."

    # ------------------------------------------------------------ blocks

    def para(self) -> str:
        return f"<p>{self.words()}</p>"

    def heading(self) -> str:
        self.rank = self.draw(st.integers(1, min(4, self.rank + 1)))
        return f"{self.turn()}<h{self.rank}>{self.words()}</h{self.rank}>"

    def title(self, words: str) -> str:
        self.rank = 1
        return f"<h1>{words}</h1>"

    def items(self, depth: int = 0) -> str:
        """A list, nested up to four levels."""
        kind = self.draw(st.sampled_from(["ul", "ol"]))
        return f"<{kind}>{self.some(lambda: self.item(depth), 1, 4)}</{kind}>"

    def item(self, depth: int) -> str:
        inner = f"<p>{self.words()}</p>{self.para()}" if self.chance(5) else self.words()
        if depth < 3 and self.chance(4):
            inner += self.items(depth + 1)
        if self.chance(12):
            inner += self.quote()
        return f"<li>{inner}</li>"

    def box(self, depth: int = 0) -> str:
        inside = [self.para, self.para, self.items, self.table, self.verse]
        if depth < 1:
            inside.append(lambda: self.box(depth + 1))
        return f"<aside>{self.some(lambda: self.one_of(*inside), 1, 4)}{self.turn()}</aside>"

    def table(self) -> str:
        columns = self.draw(st.integers(1, 5))
        cell = TEXT if self.chance(4) else st.one_of(WORD, PHRASE, st.just(""))
        head = f"<tr>{'<th>Name</th>' * columns}</tr>" if self.chance(2) else ""

        def row() -> str:
            cells = (f"<td>{self.draw(cell)}{self.turn()}</td>" for _ in range(columns))
            return f"<tr>{''.join(cells)}</tr>"

        caption = f"<caption>{self.phrase()}</caption>" if self.chance(3) else ""
        return f"<table>{caption}{head}{self.some(row, 1, 12)}</table>"

    def verse(self) -> str:
        def line() -> str:
            return f'<p epub:type="z3998:line">{self.words()}</p>'

        def stanza() -> str:
            return f"<div class='stanza'>{self.some(line, 1, 5)}</div>"

        return f'<div epub:type="z3998:verse">{self.some(stanza, 1, 3)}</div>'

    def quote(self) -> str:
        name = f'<p class="attribution">{self.phrase()}</p>' if self.chance(2) else ""
        return f"<blockquote>{self.some(self.para, 1, 3)}{name}</blockquote>"

    def exercise(self) -> str:
        def choice() -> str:
            return f"<li>{self.phrase()}</li>"

        def question() -> str:
            choices = f"<ol type='a'>{self.some(choice, 2, 5)}</ol>"
            return f"<li><p>{self.words()}</p>{choices}</li>"

        direction = f'<p class="directions">{self.words()}</p>' if self.chance(2) else ""
        questions = f"{direction}<ol>{self.some(question, 1, 4)}</ol>"
        return f'<section epub:type="practice">{questions}</section>'

    def play(self) -> str:
        def speech() -> str:
            name = '<td epub:type="z3998:persona">Tom</td>'
            return f"<tr>{name}<td><p>{self.words()}</p></td></tr>"

        return f'<table epub:type="z3998:drama">{self.some(speech, 1, 5)}</table>'

    def glossary(self) -> str:
        def entry() -> str:
            return f"<dt>{self.phrase()}</dt><dd>{self.words()}</dd>"

        entries = f"{self.title('Words')}<dl>{self.some(entry, 1, 8)}</dl>"
        return f'<section epub:type="glossary">{entries}</section>'

    def index(self) -> str:
        def entry() -> str:
            return f"<li>{self.draw(WORD)}, {self.draw(st.integers(1, 90))}</li>"

        entries = f"{self.title('Index')}<ul>{self.some(entry, 1, 12)}</ul>"
        return f'<section epub:type="index">{entries}</section>'

    def figure(self) -> str:
        image = f'<img src="a.png" alt="{self.phrase()}"/>'
        return f"<figure>{image}<figcaption>Figure 1. {self.phrase()}</figcaption></figure>"

    def form(self) -> str:
        def answer() -> str:
            return f"<p>{self.phrase()} <input type='text'/></p>"

        def box() -> str:
            return f"<p>☐ {self.phrase()}</p>"

        return f"<form>{self.some(answer, 0, 3)}{self.para()}{self.some(box, 0, 6)}</form>"

    def space(self) -> str:
        return "<hr/>"

    def block(self) -> str:
        return self.one_of(
            self.para, self.para, self.para, self.heading, self.heading, self.items, self.box,
            self.table, self.verse, self.quote, self.exercise, self.play, self.figure, self.form,
            self.glossary, self.index, self.space, self.turn,
        )  # fmt: skip


@st.composite
def documents(draw: st.DrawFn) -> str:
    """The content of a body element."""
    writer = Writer(draw)
    body = writer.some(writer.block, 1, 14)
    return f"<p>The start.</p>{body}{''.join(writer.notes)}"
