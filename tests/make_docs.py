"""Write the generated pages of docs/: ``python tests/make_docs.py``; a test keeps them current."""

from __future__ import annotations

import re
import tomllib
from importlib import resources
from pathlib import Path

from convert.check import checks
from convert.check.inspect import GROUPS
from convert.decisions.verbs import verbs
from convert.findings import LOOK, STOP, TOLD, catalogue

DOCS = Path(__file__).parents[1] / "docs"
_TITLES = {
    STOP: "Do not emboss before these are settled (stop)",
    LOOK: "A person must judge (look)",
    TOLD: "Recorded (told)",
}


def findings_page() -> str:
    """The catalogue of findings as a page, the most urgent first."""
    lines = [
        "# Findings",
        "",
        "Every kind of finding a report can hold. Generated from `convert/catalogue/`.",
        "Words in braces are filled in for each place.",
    ]
    for severity, title in _TITLES.items():
        lines += ["", f"## {title}"]
        for kind in sorted(catalogue().values(), key=lambda k: k.name):
            if kind.severity == severity:
                lines += ["", f"### {kind.name}", "", _shown(kind.says)]
                lines += ["", f"What to do: {kind.remedy}"]
                if kind.standard:
                    lines += ["", f"Rule: {kind.standard}."]
    return "\n".join(lines) + "\n"


def _shown(sentence: str) -> str:
    """A sentence of the catalogue with what is filled in between braces, without its ways."""
    sentence = re.sub(r"\{(\w+):language\}", r"{\1}", sentence)
    return re.sub(
        r"\{(\w+):([a-z ]+)\}",
        lambda found: (
            f"{{{found[1]}}} {' or '.join(f'{noun}s' for noun in found[2].split(' or '))}"
        ),
        sentence,
    )


def checks_page() -> str:
    """The checks of finished pages, group by group, with what each needs and what is not made."""
    rows = checks()
    unmade = sum(not row.made for row in rows.values())
    made = "all of them" if not unmade else f"{len(rows) - unmade} of them"
    left = f"; those not made yet, {unmade}, are marked below and" if unmade else ". A check is"
    lines = [
        "# Checks of finished pages",
        "",
        f"*Braille Formats* 2016 gives {len(rows)} checks of finished pages. `cellset check` and",
        f"every conversion make {made}{left} never counted as",
        "passed where it was not made or finds nothing of its kind: the sum tells how many were",
        "applied, how many did not apply, how many need what is not at hand, how many failed.",
        "",
        "A failure is explained where a finding of the same edition tells why the rule could not",
        "be kept there: a keep rule that gave way because nothing else fits the page, a note or a",
        "mark that the source lacks. It is told with that reason and counted apart.",
        "",
        "An error is one in every convention. Advice depends on the choices of an agency. A check",
        "needs the pages alone, the trace of a conversion, or the source document as well.",
        "Generated from `convert/check/checks.toml`.",
    ]
    needs = {"P": "the pages", "T": "the trace", "S": "the source"}
    for letter, title in GROUPS.items():
        lines += ["", f"## {title} ({letter})", ""]
        for row in rows.values():
            if row.id[0] == letter:
                grade = "Error" if row.severity == "E" else "Advice"
                state = "" if row.made else " **Not made yet.**"
                lines.append(
                    f"* {row.id}: {row.what} ({grade}; needs {needs[row.needs]}; "
                    f"section {row.section}.){state}"
                )
    return "\n".join(lines) + "\n"


def decisions_page() -> str:
    """The page on decisions: its own words, with the verbs and the kinds of decision as data."""
    current = (DOCS / "decisions.md").read_text("utf-8")
    before, _, rest = current.partition("## The verbs\n")
    between = "## What each kind of decision is\n"
    last = "\n## Findings that can only be accepted\n"
    after = rest.partition(between)[2].partition(last)[2]
    parts = [before, "## The verbs\n\n", *_verb_lines(), "\n", between, "\n", *_kind_lines()]
    return "".join(parts) + last + after


def _verb_lines() -> list[str]:
    """A list entry for each verb: what it does, its arguments, where it comes from."""
    lines = []
    for verb in verbs().values():
        keys = "; ".join(f"`{name}`: {verb.what(name)}" for name, _ in verb.arguments)
        keys = f" {keys}." if keys else ""
        more = " Also `everywhere`." if verb.everywhere else ""
        lines.append(f"* **{verb.name}** {verb.says}{keys}{more} [{verb.cite}]\n")
    return lines


def _kind_lines() -> list[str]:
    """A table of the kinds of decision: the verb, the key of the job file, or why not yet."""
    lines = ["| kind | verbs | keys of the job file | not yet |\n", "|---|---|---|---|\n"]
    text = (resources.files("convert.decisions") / "kinds.toml").read_text("utf-8")
    for at, row in enumerate(tomllib.loads(text)["kind"], 1):
        verbs_of, keys = (
            ", ".join(f"`{name}`" for name in row.get(key, ())) for key in ("verbs", "keys")
        )
        lines.append(f"| {at}. {row['what']} | {verbs_of} | {keys} | {row.get('not_yet', '')} |\n")
    return lines


PAGES = {"decisions.md": decisions_page, "checks.md": checks_page, "findings.md": findings_page}

if __name__ == "__main__":
    for name, page in PAGES.items():
        (DOCS / name).write_text(page(), "utf-8")
