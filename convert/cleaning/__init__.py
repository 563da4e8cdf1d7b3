"""Repairs of print that a file spoils: named passes, each Document -> Document, each told.

A pass takes out characters (an omission names it) or reads others in their place (words the
edition adds); it never changes the ledger, so words in are words out and what is listed.

passes   the passes, their names, which run unless told otherwise
edits    taking out and replacing stretches of print inside runs
letters  invisible characters, quotation marks, dashes, primes
words    words divided at line ends and over print pages
blocks   lists typed by hand, running heads and page numbers left in the text
"""

from .passes import clean as clean
from .passes import names as names
from .passes import wanted as wanted
