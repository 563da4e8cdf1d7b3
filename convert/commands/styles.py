"""``cellset styles``: a layout convention as sentences, each with the section it follows."""

from __future__ import annotations

import textwrap

import click

from ..explain.say import say_indent
from ..layout.convention import Convention, Style, load
from .tell import tell

_BOOK = "BF with a number is a section of Braille Formats 2016."
_KEEPS = {
    "whole": "not divided between pages",
    "note_whole": "a note not divided between pages",
    "with_next": "kept with the next line",
    "note_with_next": "a note kept with the next line",
    "next_whole": "kept with the whole next item",
    "head_min": "at least {n} lines before a page turn",
    "tail_min": "at least {n} lines after a page turn",
    "start_not_on_last": "does not begin on the last line of a page",
    "with_previous": "kept with the line above",
}
_TYPEFORMS = {
    "drop": "typeforms left out",
    "whole": "a typeform of the whole item left out",
    "reverse": "a typeform of the whole item left out, of nearly all of it given to other words",
    "keep": "",
}


@click.command()
@click.argument("convention", default="bf2016")
def command(convention: str) -> None:
    """Print a layout convention's table: CONVENTION is a name or a TOML file.

    Each style is one sentence: where lines start, blank lines, what stays together, its section.
    """
    for line in told(load(convention)):
        tell(line)


def told(convention: Convention) -> list[str]:
    """The convention as lines of text, at most 78 characters each."""
    page = convention.page
    out = [f"Convention {convention.name}: {convention.title}.", _BOOK, "", "Page:"]
    out += _say(
        f"{page.cells} cells, {page.lines} lines; "
        f"{page.guard} cells kept empty before a page number."
    )
    out += _say(
        f"Running head: {_place(page.running_head)}. Print page number: {_place(page.print_page)}. "
        f"Braille page number: {_place(page.braille_page)}."
    )
    out += _say(f"{page.cite}.")
    volume = convention.volume
    out += ["", "Volumes:"]
    out += _say(f"{volume.cite}.")
    out += _say(f"about {volume.target} braille pages, from {volume.least} to {volume.most}.")
    out += ["", "Headings, by the number of printed ranks in the work (BF 4.1):"]
    for count, names in enumerate(convention.headings, 1):
        out += _say(f"{count}: {', '.join(names)}.")
    out += ["", "Styles:"]
    for name in sorted(convention.styles):
        out += _say(_style(convention.styles[name]))
    out += ["", "Blank lines between two styles, where they differ from the rows above:"]
    for pair in convention.between:
        above, below = _any(pair.after), _any(pair.then)
        out += _say(f"after {above}, before {below}: {_blank(pair.blank)}. {pair.cite}.")
    out += ["", "Which style a part of the document takes:"]
    for row in convention.roles:
        out += _say(f"{row.node} {row.role or 'of any other role'}: {row.style}.")
    out += ["", "Rules that give way first when a page cannot hold all:"]
    out += _say(", ".join(_KEEPS[rule].format(n="some") for rule in convention.relax) + ".")
    out += ["", "Words added:"]
    for words in (*convention.notes.values(), *convention.front.wordings.values()):
        out += _say(f"{words.name}: “{words.words.strip()}”. {words.cite}.{_sure(words.sure)}")
    return out


def _say(sentence: str) -> list[str]:
    return textwrap.wrap(sentence, 78, initial_indent="  ", subsequent_indent="    ")


def _place(word: str) -> str:
    return word.replace("-", " ")


def _any(name: str) -> str:
    return "any style" if name == "*" else name


def _blank(number: int) -> str:
    return {0: "no blank line", 1: "one blank line"}.get(number, f"{number} blank lines")


def _sure(sure: str) -> str:
    return f" Not sure: {sure}." if sure else ""


def _style(style: Style) -> str:
    parts = [say_indent(style.indent)]
    if style.more == "nested":
        parts.append("further paragraphs two cells right of the runover")
    elif style.more:
        parts.append(f"further paragraphs: {say_indent(style.more)}")
    parts.append(f"{_blank(style.before)} before, {_blank(style.after)} after")
    if style.within is not None and style.within != style.before:
        parts.append(f"{_blank(style.within)} between neighbours")
    parts += [_KEEPS[rule].format(n=number) for rule, number in style.keep]
    if _TYPEFORMS[style.typeforms]:
        parts.append(_TYPEFORMS[style.typeforms])
    return f"{style.name}: {'; '.join(parts)}. {style.cite}.{_sure(style.sure)}"
