"""Print how long conversions take against the bare translation library.  See README.md here."""

from __future__ import annotations

import ctypes
import ctypes.util
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from text import book, plain, write_docx, write_epub

RUNS = 5
# As installed: Python keeps the modules it has compiled, whatever this shell says.
ENVIRONMENT = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
STAGES = r"""
import json, sys, time
from pathlib import Path
from convert import census, conserve, pipeline, plugins, suspect
from convert.output import write_edition
clock, marks, spent = time.process_time, [], {}
def tell(stage):
    marks.append((stage, clock()))
def timed(name, whole):
    def inner(*args):
        start = clock()
        try:
            return whole(*args)
        finally:
            spent[name] = spent.get(name, 0) + clock() - start
    return inner
def load(group, name, find=timed("loading the reader", plugins.load), plain=plugins.load):
    is_reader = group == "convert.readers"
    return timed("reader", find(group, name)) if is_reader else plain(group, name)
plugins.load = load
pipeline.clean = timed("cleaning", pipeline.clean)
pipeline.tidy = timed("tidy", pipeline.tidy)
census.census = timed("census", census.census)
suspect.suspect = timed("doubts", suspect.suspect)
pipeline.translate_items = timed("translation alone", pipeline.translate_items)
conserve.conserve = timed("conserve alone", conserve.conserve)
source, out, formats = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3].split(",")
settings = pipeline.settings_from(write=tuple(formats))
edition = pipeline.convert_source(source, settings, tell)
tell("writing")
write_edition(edition, out, tuple(formats))
tell("end")
shares = {a[0]: b[1] - a[1] for a, b in zip(marks, marks[1:])}
alone = {name: spent.pop(name) for name in ("translation alone", "conserve alone")}
alone["layout without conserve"] = shares["laying out pages"] - alone["conserve alone"]
rest = {"the rest of reading": shares["reading"] - sum(spent.values())}
totals = edition.totals
print(json.dumps({"stages": shares | alone, "reading": spent | rest,
                  "pages": totals.braille_pages, "lost": totals.lost}))
"""


def bare(paragraphs: list[str]) -> float:
    """Processor seconds the library takes for all paragraphs, one call each, positions off."""
    lib = ctypes.CDLL(ctypes.util.find_library("louis") or "liblouis.so.20")
    wide = ctypes.c_uint32 if lib.lou_charSize() == 4 else ctypes.c_uint16
    coding = "utf-32-le" if wide is ctypes.c_uint32 else "utf-16-le"
    table = b"en-ueb-g2.ctb"

    def translate(paragraph: str) -> str:
        data = paragraph.encode(coding, "replace")
        length = len(data) // ctypes.sizeof(wide)
        source = (wide * (length + 1)).from_buffer_copy(data + bytes(ctypes.sizeof(wide)))
        out = (wide * (length * 4 + 64))()
        got, made = ctypes.c_int(length), ctypes.c_int(len(out))
        sizes = ctypes.byref(got), ctypes.byref(made)
        lib.lou_translateString(table, source, sizes[0], out, sizes[1], None, None, 0)
        return bytes(out)[: made.value * ctypes.sizeof(wide)].decode(coding)

    translate("a")
    start = time.process_time()
    for paragraph in paragraphs:
        translate(paragraph)
    return time.process_time() - start


def process(source: Path, formats: str) -> tuple[float, float, dict[str, Any]]:
    """Processor seconds and peak megabytes of a whole process, and what it says of its stages."""
    with tempfile.TemporaryDirectory() as out:
        child = subprocess.Popen(
            [sys.executable, "-c", STAGES, str(source), out, formats],
            stdout=subprocess.PIPE,
            env=ENVIRONMENT,
        )
        assert child.stdout is not None
        said = json.loads(child.stdout.read())
        _, status, usage = os.wait4(child.pid, 0)
        child.returncode = status
        return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024, said


def help_time() -> tuple[float, float]:
    """Milliseconds of `cellset --help`, and of a bare interpreter."""

    def best(args: list[str]) -> float:
        times = []
        for _ in range(9):
            start = time.perf_counter()
            subprocess.run(
                [sys.executable, *args], stdout=subprocess.DEVNULL, check=True, env=ENVIRONMENT
            )
            times.append(time.perf_counter() - start)
        return statistics.median(times) * 1000

    return best(["-m", "convert", "--help"]), best(["-c", "pass"])


def shares(runs: list[dict[str, Any]], what: str, bare_seconds: float) -> str:
    """The median share of each stage in the time of the bare library."""
    names = runs[0][what]
    medians = {name: statistics.median(run[what].get(name, 0.0) for run in runs) for name in names}
    return ", ".join(f"{name} {s / bare_seconds:.3f}" for name, s in medians.items())


def main() -> None:
    folder = Path(sys.argv[1])
    times: dict[tuple[str, int], float] = {}
    for words in (30_000, 300_000):
        sections = book(folder, words)
        paragraphs = plain(sections)
        write_epub(sections, folder / f"{words}.epub")
        write_docx(sections, folder / f"{words}.docx")
        count = sum(len(p.split()) for p in paragraphs)
        print(f"{count} words, {len(paragraphs)} paragraphs")
        for suffix in ("epub", "docx"):
            for formats in ("brf", "brf,report,proof,trace"):
                libs, whole, peak, runs = [], [], 0.0, []
                for _ in range(RUNS):
                    libs.append(bare(paragraphs))
                    seconds, memory, said = process(folder / f"{words}.{suffix}", formats)
                    whole.append(seconds)
                    runs.append(said)
                    peak = max(peak, memory)
                b, t = statistics.median(libs), statistics.median(whole)
                times[suffix, words] = t
                print(
                    f"{suffix} {formats}: {t:.2f} s, bare library {b:.2f} s, ratio {t / b:.2f}; "
                    f"peak {peak:.0f} MB; {said['pages']} braille pages; lost {said['lost']}"
                )
                print(f"  stages over the bare library: {shares(runs, 'stages', b)}")
                print(f"  of reading: {shares(runs, 'reading', b)}")
    for suffix in ("epub", "docx"):
        growth = times[suffix, 300_000] / times[suffix, 30_000]
        print(f"{suffix}: ten times the words takes {growth:.1f} times as long")
    ours, python = help_time()
    print(f"--help: {ours - python:.0f} ms over a bare interpreter's {python:.0f} ms")


if __name__ == "__main__":
    main()
