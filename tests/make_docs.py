"""Write the generated pages of docs/: ``python tests/make_docs.py``; a test keeps them current."""

from __future__ import annotations

from pathlib import Path

from convert.check import checks
from convert.check.inspect import GROUPS
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
                lines += ["", f"### {kind.name}", "", kind.says, "", f"What to do: {kind.remedy}"]
                if kind.standard:
                    lines += ["", f"Rule: {kind.standard}."]
    return "\n".join(lines) + "\n"


def checks_page() -> str:
    """The checks of finished pages, group by group, with what each needs and what is not made."""
    rows = checks()
    made = sum(row.made for row in rows.values())
    lines = [
        "# Checks of finished pages",
        "",
        f"*Braille Formats* 2016 gives {len(rows)} checks of finished pages. `cellset check` and",
        f"every conversion make {made} of them; {len(rows) - made} are not made yet. Those are",
        "marked below and never counted as passed.",
        "A check that finds nothing of its kind counts as not applicable.",
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


PAGES = {"checks.md": checks_page, "findings.md": findings_page}

if __name__ == "__main__":
    for name, page in PAGES.items():
        (DOCS / name).write_text(page(), "utf-8")
