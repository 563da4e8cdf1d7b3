"""What print seems to mean and the file does not say: doubts filed as findings, nothing changed.

Detectors look at the distinct words of a document, at a few trigger words, and at blocks that
stand side by side, so that a book of 300,000 words costs a few passes over its vocabulary.
What they look for is data: ``suspect.toml``.

leaves   the blocks with words, in rows of siblings, and which print is plain reading matter
places   every word, how often it stands, and where those looked for do
words    single words: look-alikes, stray capitals, lost raised or lowered signs, notations
phrases  words that send the reader to a colour, a picture, a page, a typeform
lines    numbers and figures: formulas typed as text, minus signs, blanks, columns of spaces
rows     blocks side by side: lists, running heads, page numbers, plays, contents, side matter
heads    headings and capitals
tongues  words in another language that the file does not mark
dictionaries  terms in the order of the alphabet
cut_words  words cut over two paragraphs
fillings places of a template that nobody filled in
"""

from itertools import chain

from ..document.nodes import Document
from ..findings import Findings
from . import cut_words, dictionaries, fillings, heads, lines, phrases, rows, tongues, words
from .leaves import Reading


def suspect(document: Document, findings: Findings, code: str = "ueb") -> None:
    """File every doubt about a tidied document that is to stand in ``code``."""
    reading = Reading(document)
    document.ledger.forget()  # no later stage asks for the words
    odd = words.flagged(reading)
    reading.seek(chain(*odd.values(), phrases.sought(), tongues.sought()))
    words.look(reading, findings, odd)
    for room in (phrases, lines, rows, heads, tongues, fillings, cut_words, dictionaries):
        room.look(reading, findings)
    tongues.look_at_code(reading, code, findings)
