"""Why a cell is there: from volume, page, line and cell to the print and the rule.

What a line is comes from ``trace.jsonl``; what a cell stands for, from a new conversion.  Every
answer is plain sentences, to be listened to.
"""

from .edition import Place, explain_place
from .say import say_step, say_translation

__all__ = ["Place", "explain_place", "say_step", "say_translation"]
