"""What the trace's kinds of line mean for blank lines and margins (Braille Formats 2016)."""

from __future__ import annotations

from .model import Block

# A blank line above, and below, unless the neighbour says otherwise: BF 4.4 to 4.6, 7.2, 8.3,
# 9.1, 10, 11.2, 13.3.
NEEDS_ABOVE = frozenset(
    ["h-center", "h-5", "h-7", "list", "box-top", "table", "displayed", "verse", "direction"]
)
NEEDS_BELOW = frozenset(["h-center", "list", "box-bottom", "displayed", "verse", "attribution"])
HEADINGS = frozenset(["h-center", "h-5", "h-7"])
NESTED = frozenset(["list", "exercise", "verse", "index", "glossary", "bibliography"])


def same_list(one: Block, other: Block) -> bool:
    """Whether two blocks are surely items of one list.

    Addresses grow from the root of the document, so items of one list share the path of the
    list.  Two items side by side differ in one step only; a deeper item lies inside one.
    """
    if one.levels != other.levels or not one.element or not other.element:
        return False
    if one.level < other.level:
        return True
    first, second = one.element.split("/"), other.element.split("/")
    shared = 0
    for left, right in zip(first, second, strict=False):
        if left != right:
            break
        shared += 1
    return one.level == other.level and shared >= len(second) - 1 > 1
