"""The first offer of each kind of finding, taken: the finding is gone or settled after it.

``raising.toml`` has a source for each kind.  Kinds that no small source raises (faults of the
program, limits, code that needs a library) are tried on a finding made up for a short document.
"""

from __future__ import annotations

import tomllib
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from convert.deciding import fill
from convert.decisions.apply import decide
from convert.decisions.offers import MOST, Offers, parts_of
from convert.decisions.settle import settle_findings
from convert.decisions.stanza import append, is_option, option_of
from convert.document.nodes import Document, Paragraph, walk
from convert.edition import Edition
from convert.findings import TOLD, Finding, Findings, catalogue, number
from convert.job import read_job, settings_options
from convert.pipeline import convert_source, read_source, settings_from
from convert.readers.container import open_source
from convert.settings import Settings
from tests.readers.make import epub, pack, read_epub
from tests.readers.make_docx import docx

HERE = Path(__file__).parent
RAISING: dict[str, dict[str, Any]] = tomllib.loads((HERE / "raising.toml").read_text("utf-8"))
OFFERED = [kind.name for kind in catalogue().values() if kind.offers]
# What a person would fill in.
FILLED = {
    "cells": "1-2", "form": "bold", "label": "7", "lang": "fr", "level": "2", "page": "38x25",
    "role": "quotation", "running-head": "Sea", "text": "other words", "title": "Short",
    "why": "seen in print",
}  # fmt: skip
# Kinds without an offer but acceptance, and why nothing else can be true of them.
ACCEPTED_ONLY = {
    "decision.stale": "the job file itself has to be corrected; the finding names its line",
    "decision.unused": "the job file itself has to be corrected; the finding names its line",
    "layout.choice-not-followed": "a decision asks for it: that one is to be taken out or changed",
    "layout.illustration-moved": (
        "`[rules] illustrations` of the convention says where such pictures stand in the whole work"
    ),
    "layout.margin-numbers-added": (
        "`[rules] margin_numbers` of the convention says whether paragraphs get numbers that print "
        "leaves out"
    ),
    "layout.table-form-refused": "a decision asks for it: that one is to be taken out or changed",
    "layout.text-interrupted": (
        "`[rules] interruptions` of the convention says whether notes tell of whole pages inside a "
        "sentence"
    ),
    "read.doubled-entry": "only the publisher can say which of two files is the book",
    "read.several-renditions": "another rendition is another source, to be converted by itself",
}


def test_each_kind_to_settle_or_to_look_at_has_an_offer_or_a_reason() -> None:
    bare = {k.name for k in catalogue().values() if k.severity != TOLD and not k.offers}
    assert bare == set(ACCEPTED_ONLY)
    text = (HERE.parents[1] / "docs" / "decisions.md").read_text("utf-8")
    for kind, reason in ACCEPTED_ONLY.items():
        assert f"* `{kind}`: {reason}.\n" in text


def source_of(folder: Path, row: dict[str, Any]) -> Path:
    """The source of a row of raising.toml."""
    name = row["name"]
    if "text" in row:
        path = folder / name
        path.write_text(row["text"], "utf-8")
        return path
    if "title" in row:
        row = {"bodies": ["<p>Salt is white.</p>"], "metadata": _titled(row["title"]), **row}
    if "bodies" in row or "body" in row:
        bodies = row.get("bodies") or [row["body"]]
        if name.endswith(".docx"):
            return docx(folder, bodies[0])
        keys = [key for key in ("head", "metadata", "manifest", "spine") if key in row]
        return epub(folder, *bodies, **{k: row[k] for k in keys}, files=row.get("members"))
    base = epub(folder, "<p>x</p>") if name.endswith(".epub") else docx(folder, "")
    with zipfile.ZipFile(base) as archive:
        files: dict[str, str | bytes] = {n: archive.read(n) for n in archive.namelist()}
    base.unlink()
    files |= row.get("files", {})
    return pack(folder / name, {n: c for n, c in files.items() if n not in row.get("gone", ())})


def _titled(title: str) -> str:
    return f"<dc:title>{title}</dc:title><dc:language>en</dc:language>"


def words_of(document: Document) -> Iterator[tuple[str, str]]:
    """The address and the first words of each paragraph whose words stand once, the last first."""
    whole = " ".join(document.ledger.text.split())
    for block in [node for node in walk(document) if isinstance(node, Paragraph)][::-1]:
        spans = [(run.start, run.end) for run in block.runs if hasattr(run, "start")]
        words = document.ledger.quote(spans[0][0], spans[-1][1]).split() if spans else []
        short = " ".join(words[:8])
        if short and whole.count(short) == 1:
            yield block.address, short


def filled(text: str, document: Document) -> str:
    """An offer as a person would complete it."""
    if is_option(text):
        key, value = option_of(text)
        return fill(text, {key: FILLED[key]} if value == "" else {})
    row = tomllib.loads(text)["decision"][0]
    given = {key: FILLED[key] for key, value in row.items() if value == "" and key in FILLED}
    blocks = list(words_of(document))
    if row.get("expect") == "":
        given["expect"] = blocks[0][1]
    if row.get("to") == "":
        given["to"], given["beside"] = blocks[-1]
    return fill(text, given)


@pytest.mark.parametrize("kind", [kind for kind in OFFERED if kind in RAISING])
def test_the_first_offer_settles_its_finding(tmp_path: Path, kind: str) -> None:
    row = RAISING[kind]
    source, options = source_of(tmp_path, row), dict(row.get("options", {}))
    job_path, begun = tmp_path / "x.job.toml", row.get("job", "")

    options = {k: tuple(v) if isinstance(v, list) else v for k, v in options.items()}

    def run(text: str, **more: object) -> Edition:
        job_path.write_text(text, "utf-8")
        return convert_source(source, settings_from(**options | more), job=read_job(job_path))

    before = run(begun)
    finding = next(one for one in before.findings if one.kind == kind)
    document, _ = read_source(open_source(source), settings_from(**options), Findings())
    offer = Offers(document).of(finding)[0]
    assert offer.verb != "accept"
    text = append(begun, [filled(one, document) for one in offer.stanzas])
    chosen = {key: value for key, value in tomllib.loads(text).items() if key != "decision"}
    after = run(text, **settings_options(chosen))
    left = [f for f in after.findings if f.kind == kind and f.severity != TOLD]
    assert not [f for f in left if f.id == finding.id and f.spans == finding.spans]
    new = after.decisions[len(before.decisions) :]
    assert {record.state for record in new} <= {"applied", "followed"}
    assert bool(new) is (offer.verb != "set")
    assert after.totals.lost <= before.totals.lost


BODY = "<p>Salt is white.</p><p>The <b>sea</b> is wide.</p><table><tr><td>a</td></tr></table>"
MADE_UP = sorted(set(OFFERED) - set(RAISING))


@pytest.mark.parametrize("kind", MADE_UP)
def test_the_first_offer_settles_a_finding_made_up(tmp_path: Path, kind: str) -> None:
    body = (
        BODY
        + '<p hidden="hidden">Hidden.</p><p><img src="a.png" alt="x"/></p><ul><li>one</li></ul>'
    )
    document = read_epub(epub(tmp_path, body))
    row = parts_of(dict(catalogue()[kind].offers[0]))[1]
    print_ = "Hidden" if row.get("do") == "put-back" else "one" if "what" in row else "sea"
    at = document.ledger.text.index(print_)
    facts = {name: "a.png" if name == "resource" else "x" for name in catalogue()[kind].facts()}
    raised = Finding(kind, ((at, at + 3),), tuple(facts.items()))
    (finding,) = number([raised], document.ledger.text)
    offer = Offers(document).of(finding)[0]
    if offer.verb == "set":
        chosen = [filled(one, document) for one in offer.stanzas]
        key, value = option_of(chosen[0])
        assert settings_from(**settings_options({key: value})) != Settings()
        return
    path = tmp_path / "x.job.toml"
    path.write_text(append("", [filled(one, document) for one in offer.stanzas]), "utf-8")
    findings = Findings()
    rows = decide(document, read_job(path).decisions, findings).rows
    assert [row.state for row in rows] == ["applied"] * len(rows)
    text = document.ledger.text
    if finding.severity != TOLD:
        assert all(f.settled for f in settle_findings([finding], rows, text) if f.kind == kind)


def test_an_offer_for_many_words_spells_out_the_first_twenty(tmp_path: Path) -> None:
    names = [a + b for a in "bcdfg" for b in ("ale", "ore", "ine", "oot", "unt")]
    words = " ".join(f"He said '{name}' and left." for name in names)
    edition = convert_source(epub(tmp_path, f"<p>{words}</p>"), settings_from(write=("brf",)))
    (finding,) = [f for f in edition.findings if f.kind == "ueb.straight-single"]
    first = finding.offer[0]
    assert first.count("[[decision]]") == MOST
    assert f"# and {len(names) - MOST} places more; cellset decide writes them all" in first
