"""A child process that reads damaged packages under limits of memory and time."""

from __future__ import annotations

import ctypes
import gc
import multiprocessing
import resource
import signal
import tempfile
import time
import traceback
import warnings
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from types import FrameType

MIB = 1024 * 1024


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one package.  ``fault`` is empty where all is as promised."""

    number: int
    refused: bool = False
    fault: str = ""
    unread: str = ""
    """The finding that tells of words the reader missed, if there is one."""
    seconds: float = 0.0
    peak: int = 0
    """MiB of memory at the most."""


class _TooLong(BaseException):
    pass


def _ring(signum: int, frame: FrameType | None) -> None:
    raise _TooLong


def judge(path: Path, whole: bool) -> tuple[bool, str, str]:
    """(refused, fault, unread) of one file; ``whole`` converts it, else it is only read."""
    import convert
    from convert.document.nodes import Document
    from convert.errors import Bug, ConvertError, PluginError

    try:
        if whole:
            edition = convert.convert(path, code="ueb-uncontracted")
            said = {f.kind: f.message for f in edition.findings if f.kind.startswith("print.")}
            unread = said.pop("print.not-read", "")
            lost = edition.totals.lost
            return False, f"lost {lost}: {said}" if said or (lost and not unread) else "", unread
        document = convert.read(path)
        return False, "" if isinstance(document, Document) else "no Document", ""
    except (Bug, PluginError) as error:
        return True, "".join(traceback.format_exception(error)), ""
    except ConvertError as error:
        sentence = str(error).strip().endswith((".", "”"))
        return True, "" if sentence else f"no sentence: {error}", ""
    except Exception as error:
        return True, "".join(traceback.format_exception(error)), ""


def _peak() -> int:
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith("VmHWM:"):
            return int(line.split()[1]) // 1024
    return 0


def serve(pipe: Connection, memory: int, seconds: float) -> None:
    """Answer (number, suffix, bytes, whole) with an Outcome until the pipe is closed."""
    resource.setrlimit(resource.RLIMIT_AS, (memory * MIB, memory * MIB))
    signal.signal(signal.SIGALRM, _ring)
    warnings.simplefilter("error")
    trim = getattr(ctypes.CDLL(None), "malloc_trim", int)
    with tempfile.TemporaryDirectory() as folder:
        while True:
            try:
                number, suffix, data, whole = pipe.recv()
            except EOFError:
                return
            path = Path(folder) / f"m.{suffix}"
            path.write_bytes(data)
            gc.collect()
            trim(0)  # else what an earlier package left free would count as this one's
            Path("/proc/self/clear_refs").write_text("5")  # the peak counts from here
            start = time.perf_counter()
            signal.setitimer(signal.ITIMER_REAL, seconds)
            try:
                refused, fault, unread = judge(path, whole)
            except _TooLong as late:
                refused, unread = False, ""
                fault = "too long\n" + "".join(traceback.format_exception(late))
            finally:
                signal.setitimer(signal.ITIMER_REAL, 0)
            took = time.perf_counter() - start
            pipe.send(Outcome(number, refused, fault, unread, took, _peak()))


class Reader:
    """One child, started again when it dies or hangs outside Python."""

    def __init__(self, memory: int, seconds: float) -> None:
        self._memory, self._seconds = memory, seconds
        self._context = multiprocessing.get_context("spawn")
        self._start()

    def _start(self) -> None:
        self._pipe, child = self._context.Pipe()
        args = (child, self._memory, self._seconds)
        self._process = self._context.Process(target=serve, args=args, daemon=True)
        self._process.start()
        child.close()

    def ask(self, number: int, suffix: str, data: bytes, whole: bool = False) -> Outcome:
        """Read or convert one package in the child."""
        try:
            self._pipe.send((number, suffix, data, whole))
            if self._pipe.poll(self._seconds + 30):
                outcome: Outcome = self._pipe.recv()
                return outcome
            fault = "hangs outside Python"
        except (EOFError, OSError):
            self._process.join(5)
            fault = f"the process ended with status {self._process.exitcode}"
        self.close()
        self._start()
        return Outcome(number, fault=fault, seconds=self._seconds)

    def close(self) -> None:
        """End the child."""
        self._pipe.close()
        self._process.kill()
        self._process.join()
