"""A line of inline HTML as runs, so that typeforms can be typed: ``translate --html``.

Understood: i em, b strong, u, s del, sup, sub, small-caps, and span with a lang attribute.
The words of other elements are kept and the element's name is given back, so that it can be
told; ``br`` is a space.
"""

from __future__ import annotations

from html.parser import HTMLParser

from ..document.nodes import TYPEFORM_BITS
from .passage import Passage

_FORMS = {
    "i": "italic",
    "em": "italic",
    "b": "bold",
    "strong": "bold",
    "u": "underline",
    "s": "strike",
    "del": "strike",
    "sup": "sup",
    "sub": "sub",
    **{name: name for name in ("small-caps", *(f"transcriber-{n}" for n in range(1, 6)))},
}


class _Fragment(HTMLParser):
    """Collects stretches of text with the typeforms and the language open around them."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[tuple[str, str]] = []
        self.runs: list[tuple[str, tuple[str, ...], str]] = []
        self.unknown: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "br":
            self.handle_data(" ")
            return
        if tag not in _FORMS and tag != "span" and tag not in self.unknown:
            self.unknown.append(tag)
        self.open.append((tag, dict(attrs).get("lang") or ""))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "br":
            self.handle_data(" ")
        elif tag not in self.unknown and tag not in _FORMS and tag != "span":
            self.unknown.append(tag)

    def handle_endtag(self, tag: str) -> None:
        for at in range(len(self.open) - 1, -1, -1):
            if self.open[at][0] == tag:
                del self.open[at]
                return

    def handle_data(self, data: str) -> None:
        forms = tuple(dict.fromkeys(_FORMS[tag] for tag, _ in self.open if tag in _FORMS))
        lang = next((lang for _, lang in reversed(self.open) if lang), "")
        if self.runs and self.runs[-1][1:] == (forms, lang):
            data = self.runs.pop()[0] + data
        self.runs.append((data, forms, lang))


def read_fragment(line: str) -> tuple[Passage, list[str]]:
    """The passage of one fragment, and the names of elements that say nothing to braille."""
    parser = _Fragment()
    parser.feed(line)
    parser.close()
    text = ""
    forms: list[tuple[int, int, int]] = []
    langs: list[tuple[int, int, str]] = []
    for words, names, lang in parser.runs:
        end = len(text) + len(words)
        bits = sum(TYPEFORM_BITS[name] for name in names)
        if bits:
            forms.append((len(text), end, bits))
        if lang:
            joined = langs and langs[-1][1:] == (len(text), lang)
            langs.append((langs.pop()[0] if joined else len(text), end, lang))
        text += words
    return Passage(text, tuple(forms), tuple(langs)), parser.unknown
