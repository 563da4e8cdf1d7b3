"""Many damaged packages: ``python -m tests.fuzz.campaign FIRST COUNT [EVERY]``.

Reads the packages with the numbers FIRST to FIRST + COUNT - 1 in one child process, and converts
every EVERY-th (4 unless given) whole.  Prints each package that breaks a promise: an error
without a name, longer than 20 seconds, more than 500 MiB, a character lost.  Exit status 1 then.
Words the reader missed are listed apart where the second count of the source says so.
"""

from __future__ import annotations

import sys
import time

from .mutate import mutated
from .worker import Outcome, Reader

SECONDS, MEMORY = 20.0, 500


def broken(outcome: Outcome) -> str:
    """The promise an outcome breaks, or nothing."""
    if outcome.fault:
        return outcome.fault
    if outcome.seconds > SECONDS:
        return f"took {outcome.seconds:.0f} s"
    return f"took {outcome.peak} MiB" if outcome.peak > MEMORY else ""


def main() -> int:
    first, count, every = (int(arg) for arg in [*sys.argv[1:], "4"][:3])
    reader = Reader(memory=2048, seconds=SECONDS)
    start = time.perf_counter()
    refused = whole = faults = unread = 0
    slowest = largest = Outcome(first)
    for number in range(first, first + count):
        all_of_it = number % every == 0
        outcome = reader.ask(number, *mutated(number), all_of_it)
        refused += outcome.refused
        whole += all_of_it
        slowest = max(slowest, outcome, key=lambda o: o.seconds)
        largest = max(largest, outcome, key=lambda o: o.peak)
        if fault := broken(outcome):
            faults += 1
            print(f"package {number}: {fault}", flush=True)
        if outcome.unread:
            unread += 1
            print(f"package {number} is told unread: {outcome.unread}", flush=True)
        if (number + 1) % 1000 == 0:
            minutes = (time.perf_counter() - start) / 60
            print(
                f"{number + 1 - first} packages, {minutes:.1f} minutes", file=sys.stderr, flush=True
            )
    reader.close()
    print(f"{count} packages, {whole} converted whole, {refused} refused with a sentence;")
    print(f"{unread} with words the reader missed and a finding that says so;")
    print(f"{faults} broke a promise;")
    print(f"the slowest took {slowest.seconds:.1f} s (package {slowest.number}),")
    print(f"the largest {largest.peak} MiB (package {largest.number}).")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
