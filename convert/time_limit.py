"""A time limit for one document, so that one cannot hold up a night's batch."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from .errors import SourceError

GRACE = 60.0  # Seconds after which a process that does not answer is ended by the system.


@contextmanager
def time_limit(seconds: float) -> Iterator[None]:
    """Raise SourceError in the block when ``seconds`` have passed; 0 is no limit.

    Works in the main thread of a process, on systems with interval timers; elsewhere there is no
    limit.  Where a library does not return, the system ends the process ``GRACE`` seconds later.
    """
    if not seconds or not hasattr(signal, "setitimer"):
        yield
        return

    def over(number: int, frame: FrameType | None) -> None:
        signal.signal(signal.SIGALRM, signal.SIG_DFL)
        signal.setitimer(signal.ITIMER_REAL, GRACE)
        raise SourceError(
            f"It took longer than the time limit of {_spoken(seconds)}.",
            "Convert it by itself with “cellset run”, or give more time with --minutes.",
        )

    try:
        earlier = signal.signal(signal.SIGALRM, over)
    except ValueError:  # Not the main thread: there the system gives no timers.
        yield
        return
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, earlier)


def _spoken(seconds: float) -> str:
    if seconds < 60:
        return f"{seconds:g} seconds"
    minutes = seconds / 60
    return "1 minute" if minutes == 1 else f"{minutes:g} minutes"
