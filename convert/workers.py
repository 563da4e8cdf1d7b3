"""A pool of worker processes that ends when its work is stopped, and with the process that
started it."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Generator, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import active_children, get_context, parent_process
from multiprocessing.process import BaseProcess
from threading import Thread
from types import FrameType
from typing import TypeVar

R = TypeVar("R")
PATIENCE = 10.0  # Seconds in which a worker that is stopped clears its working folder.


def in_pool(
    work: Callable[..., R], calls: Sequence[tuple[object, ...]], count: int
) -> Generator[tuple[int, R], None, None]:
    """Results of calls made in ``count`` processes, each with the place of its call, from 0, as
    they come.

    Where a process dies, the results that are missing do not come.  Where the caller stops (an
    exception, or the iterator is closed), the workers are ended and what waits is not begun.
    """
    others = set(active_children())
    pool = ProcessPoolExecutor(count, mp_context=get_context("spawn"), initializer=_begin)
    try:
        with _interrupts_held():
            jobs = {pool.submit(_call, work, call): at for at, call in enumerate(calls)}
        for job in as_completed(jobs):
            yield jobs[job], job.result()
    except BrokenProcessPool:
        return
    except BaseException:
        pool.shutdown(wait=False, cancel_futures=True)
        _end_all([child for child in active_children() if child not in others])
        raise
    finally:
        pool.shutdown(cancel_futures=True)


def _end_all(children: list[BaseProcess]) -> None:
    """Ask processes to end; end those that do not."""
    try:
        for child in children:
            child.terminate()
        for child in children:
            child.join(PATIENCE)
    finally:
        for child in children:
            child.kill()


@contextmanager
def _interrupts_held() -> Iterator[None]:
    """Ctrl-C reaches every process of a terminal; those started here leave it to this one."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    earlier = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, earlier)


def _begin() -> None:
    """Make this process a worker: deaf to Ctrl-C, gone where the one that started it is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, _leave)
    if hasattr(signal, "SIGHUP"):
        signal.signal(signal.SIGHUP, _leave)
    Thread(target=_follow_parent, daemon=True).start()


def _follow_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os.kill(os.getpid(), signal.SIGTERM)


def _leave(number: int, frame: FrameType | None) -> None:
    raise SystemExit(128 + number)


def _call(work: Callable[..., R], call: tuple[object, ...]) -> R:
    """The call; a request to end leaves every block, so that working folders are removed."""
    try:
        return work(*call)
    except SystemExit:
        os._exit(1)
