"""Python's search for reference cycles, switched off while a document is made.

Trees, items and pages have no cycles, and looking for some costs a fifth of the time.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def collector_off() -> Iterator[None]:
    """No search for cycles inside; afterwards as before.  May be nested.

    What was made meanwhile counts as old afterwards (frozen and unfrozen), so that switching the
    search on again does not begin with a walk over all of it.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.freeze()
            gc.unfreeze()
            gc.enable()
