"""Decisions that last: what a person settled, kept in the job file and applied at every run.

verbs.toml, verbs  the closed list of verbs        read   [[decision]] tables -> Decision
anchor             where a decision applies now    apply  Document -> Document with choices
settle             findings that are settled       offers ready stanzas for findings
write              stanzas into the job file       effect which lines a decision changes
"""

from .record import STATES as STATES
from .record import Decision as Decision
from .record import Record as Record
