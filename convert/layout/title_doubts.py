"""What is doubtful about title pages: the braille's title, and print's own title page (BF 2.3)."""

from __future__ import annotations

import re

from ..document.nodes import Document, Run, Section, inlines_of, walk
from ..findings import Findings
from .flow_scan import TITLE_PAGES
from .front import TitleFacts, Words, title_segments

# What programs write where nobody gave a title: names of files, numbers of systems (common
# practice, no source).
_NO_TITLE = re.compile(
    r"(?:untitled|unknown|no title|(?:new )?document)[-_ ]?\d*"
    r"|microsoft word - .*"
    r"|.*\.(?:docx?|odt|rtf|pdf|indd|qxd|epub|x?html?|txt)"
    r"|\S*[@_]\S*|[a-z]*\d{5,}\S*|[a-z]+\d{3,}\S*",
    re.IGNORECASE,
)


def doubt_titles(facts: TitleFacts, given: str | None, document: Document, words: Words) -> None:
    """File what is doubtful about the title of a work and the title pages that print has."""
    _doubt_title(facts.title, given, words.findings)
    _doubt_title_pages(document, facts, words)


def _doubt_title(title: str, given: str | None, findings: Findings) -> None:
    """Say that there is no title, or that what stands as one, and no person gave, looks like the
    name of a file or a number (BF 2.3)."""
    if not title:
        findings.add("layout.no-title")
    elif not given and _NO_TITLE.fullmatch(title.strip()):
        findings.add("layout.odd-title", title=title)


# ---------------------------------------------------------------- print's own title page

_WORD = re.compile(r"[^\W_]+(?:[’'][^\W_]+)*")
_MOST = 12


def _doubt_title_pages(document: Document, facts: TitleFacts, said: Words) -> None:
    """File the title pages of print that name the work again, once for all, with their words that
    the title pages of the braille lack."""
    title = {*_words(facts.title)}
    lines = (line for part in title_segments(facts, said.front) for group in part for line in group)
    ours = {word for line in lines for word in _words(line)}
    theirs: list[tuple[Run, list[str]]] = []
    for top in document.children:
        for node in walk(top):
            if isinstance(node, Section) and node.role in TITLE_PAGES:
                runs = [r for kid in walk(node) for r in inlines_of(kid) if isinstance(r, Run)]
                words = _words(" ".join(document.ledger.text[r.start : r.end] for r in runs))
                if title and title <= {*words}:
                    theirs.append((runs[0], words))
    lacking = [*dict.fromkeys(w for _, words in theirs for w in words if w not in ours)]
    shown = ", ".join(lacking[:_MOST]) or "none"
    if lacking[_MOST:]:
        shown += f" and {len(lacking) - _MOST} more"
    for first, _ in theirs:
        said.findings.add("layout.title-page-again", (first.start, first.end), words=shown)


def _words(text: str) -> list[str]:
    return [word.casefold() for word in _WORD.findall(text)]
