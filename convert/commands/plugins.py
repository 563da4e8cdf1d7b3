"""``cellset plugins``: what is installed, and which package brings it."""

from __future__ import annotations

import click

from .. import plugins
from .tell import tell

_TITLES = {
    "convert.readers": "Readers (file endings)",
    "convert.translators": "Braille codes",
    "convert.conventions": "Layout conventions",
    "convert.writers": "Output formats",
}


@click.command()
def command() -> None:
    """List the readers, codes, conventions and formats that are installed.

    Nothing is loaded: the list comes from the installed packages' own records.
    """
    found = plugins.installed()
    for group, title in _TITLES.items():
        tell(f"{title}:")
        mine = [plugin for plugin in found if plugin.group == group]
        for plugin in mine:
            tell(f"  {plugin.name}, from {plugin.distribution} {plugin.version}")
        for name in sorted({p.name for p in mine if sum(q.name == p.name for q in mine) > 1}):
            tell(f"  Clash: more than one package offers {name}; uninstall one of them.")
