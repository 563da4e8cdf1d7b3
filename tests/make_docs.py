"""Write the generated pages of docs/: ``python tests/make_docs.py``; a test keeps them current."""

from __future__ import annotations

from pathlib import Path

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


PAGES = {"findings.md": findings_page}

if __name__ == "__main__":
    for name, page in PAGES.items():
        (DOCS / name).write_text(page(), "utf-8")
