"""The profiles as they stand in the data, and the severities they give to findings."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from fnmatch import fnmatchcase
from functools import cache
from importlib import resources

from ..errors import JobError
from ..findings import LOOK, STOP, Finding

NAMES = ("exam", "health", "legal", "early-reader")
CHECKS = ("counts", "questions", "items", "hidden", "descriptions", "units", "letters")


@dataclass(frozen=True, slots=True)
class Profile:
    """One profile.

    ``options`` are fields of Settings, ``stop`` patterns of kinds that become ``stop`` whatever
    their severity, ``stop_looks`` of those that do if a person should look at them, ``allowed``
    of those that stay as they are.  ``checks`` are of ``CHECKS``, ``sign`` of the kinds of matter
    in the data.
    """

    name: str
    title: str
    caution: str
    options: Mapping[str, object] = field(default_factory=dict)
    stop: tuple[str, ...] = ()
    stop_looks: tuple[str, ...] = ()
    allowed: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()
    sign: tuple[str, ...] = ()
    keep_units: bool = False

    def severity(self, finding: Finding) -> str:
        """``stop`` for a finding that this profile does not let pass, else nothing."""
        if _any(finding.kind, self.allowed):
            return ""
        if _any(finding.kind, self.stop):
            return STOP
        return STOP if finding.severity == LOOK and _any(finding.kind, self.stop_looks) else ""


def _any(kind: str, patterns: Iterable[str]) -> bool:
    return any(fnmatchcase(kind, pattern) for pattern in patterns)


@cache
def tables() -> dict[str, dict[str, object]]:
    """The file of profiles, whole."""
    file = resources.files("convert") / "profiles" / "profiles.toml"
    return tomllib.loads(file.read_text("utf-8"))


@cache
def profile(name: str | None) -> Profile | None:
    """The profile of a name; None without a name.  Raises JobError for one that is not known."""
    if not name:
        return None
    if name not in NAMES:
        raise JobError(f"There is no profile “{name}”.", f"The profiles are {', '.join(NAMES)}.")
    row = {key: tuple(value) if isinstance(value, list) else value
           for key, value in tables()[name].items()}  # fmt: skip
    options = row.pop("options", {})
    assert isinstance(options, dict)
    plain = {key: tuple(value) if isinstance(value, list) else value
             for key, value in options.items()}  # fmt: skip
    return Profile(name, options=plain, **row)  # type: ignore[arg-type]


def with_profile(options: Mapping[str, object]) -> dict[str, object]:
    """Options with those of their profile, which give way to what a person says.

    Raises JobError for a profile that is not known.
    """
    chosen = profile(str(options["profile"])) if options.get("profile") else None
    return {**(chosen.options if chosen else {}), **options}


def raise_findings(findings: Iterable[Finding], chosen: Profile | None) -> list[Finding]:
    """The findings with the severities that a profile gives; the settled stay settled."""
    if chosen is None:
        return list(findings)
    return [
        finding if finding.settled or not (grade := chosen.severity(finding))
        else replace(finding, raised=grade)
        for finding in findings
    ]  # fmt: skip
