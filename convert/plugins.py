"""Find plugins by name.  Built-ins come through the same four entry-point groups as yours.

| group | name is | loads to |
|---|---|---|
| ``convert.readers`` | file suffix | ``read(source, settings, findings) -> Document`` |
| ``convert.translators`` | code | ``make(settings) -> Translator`` |
| ``convert.conventions`` | convention name | a path to a TOML table |
| ``convert.writers`` | format | ``write(edition, folder) -> list[Path]`` |

Listing reads metadata only; a plugin is imported when it is named.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from importlib.metadata import EntryPoint, distributions
from typing import Any

from .errors import ConvertError, PluginError, UnknownNameError

GROUPS = ("convert.readers", "convert.translators", "convert.conventions", "convert.writers")
_NOUNS = {
    "convert.readers": "reader for files ending in",
    "convert.translators": "code",
    "convert.conventions": "layout convention",
    "convert.writers": "output format",
}


@dataclass(frozen=True, slots=True)
class Plugin:
    """A name in a group, and the distribution that brings it."""

    group: str
    name: str
    distribution: str
    version: str
    entry: EntryPoint


@cache
def installed() -> tuple[Plugin, ...]:
    """Every plugin of the four groups, sorted; none is imported."""
    found: dict[tuple[str, str, str], Plugin] = {}
    for dist in distributions():
        entries = [entry for entry in dist.entry_points if entry.group in GROUPS]
        if entries:
            name, version = dist.metadata["Name"], dist.version
        for entry in entries:
            key = (entry.group, entry.name, name)
            found.setdefault(key, Plugin(entry.group, entry.name, name, version, entry))
    return tuple(found[key] for key in sorted(found))


def names(group: str) -> list[str]:
    """The names a group offers."""
    return sorted({plugin.name for plugin in installed() if plugin.group == group})


def find(group: str, name: str) -> Plugin:
    """The one plugin of that name.  Raises PluginError if it is missing or claimed twice."""
    claims = [p for p in installed() if p.group == group and p.name == name]
    noun = _NOUNS[group]
    if len(claims) > 1:
        who = " and ".join(sorted(p.distribution for p in claims))
        raise PluginError(
            f"Two installed packages both offer the {noun} “{name}”: {who}.",
            "Uninstall one of them.",
        )
    if not claims:
        near = difflib.get_close_matches(name, names(group), n=1)
        hint = f"Did you mean “{near[0]}”?" if near else f"There are: {', '.join(names(group))}."
        raise UnknownNameError(f"No {noun} “{name}” is installed.", hint)
    return claims[0]


def load(group: str, name: str) -> Any:
    """Import a plugin.  Raises PluginError naming the distribution if the import fails."""
    plugin = find(group, name)
    try:
        return plugin.entry.load()
    except Exception as error:
        raise PluginError(
            f"The {_NOUNS[group]} “{name}” of the package {plugin.distribution} cannot be "
            f"loaded: {error}.",
            f"Reinstall {plugin.distribution} or report this to its makers.",
        ) from error


@contextmanager
def named_if_it_fails(group: str, name: str) -> Iterator[None]:
    """Run a plugin: an accident inside it becomes a PluginError that names its package.

    What it refuses on purpose, a ConvertError, passes as it is.
    """
    try:
        yield
    except ConvertError:
        raise
    except Exception as error:
        distribution = find(group, name).distribution
        raise PluginError(
            f"The {_NOUNS[group]} “{name}” (package {distribution}) failed: "
            f"{type(error).__name__}: {error}.",
            f"Nothing was written. Please report this to the makers of {distribution}.",
        ) from error
