"""The command `cellset`: finds the verb, loads only that one, and turns errors into sentences.

Exit status: 0 done; 3 done and written, with something to settle before embossing; 1 refused,
nothing written; 2 wrong usage: an option, a job file or a convention is wrong; 130 stopped with
Ctrl-C.
"""

from __future__ import annotations

import io
import os
import signal
import sys
from importlib import import_module
from types import FrameType

import click

from .commands.tell import tell
from .errors import ConventionError, ConvertError, JobError

VERBS = {
    "run": "convert documents into braille files and a report",
    "batch": "convert many documents, going on where a run stopped",
    "check": "inspect finished pages against the layout checks",
    "compare": "compare two editions, or two braille files, page by page",
    "explain": "say why a line or a cell of the braille is there",
    "decide": "turn a finding's offer into a decision that lasts",
    "translate": "turn lines of print into cells, without layout",
    "back": "turn cells back into print, sign by sign",
    "styles": "print a layout convention with its sections",
    "plugins": "list what is installed",
}

# Exit statuses of a request to end and of a closed terminal: 128 and the number of the signal.
_STOPPED = (128 + 15, 128 + 1)


class Verbs(click.Group):
    """A group whose commands are imported when called, so that help is quick."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(VERBS)

    def get_command(self, ctx: click.Context, name: str) -> click.Command | None:
        if name not in VERBS:
            return None
        command: click.Command = import_module(f".commands.{name}", __package__).command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(VERBS.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in VERBS:
            import difflib

            near = difflib.get_close_matches(args[0], VERBS, n=1)
            hint = f"Did you mean “{near[0]}”?" if near else f"The commands are {', '.join(VERBS)}."
            raise click.UsageError(f"There is no command “{args[0]}”. {hint}")
        return super().resolve_command(ctx, args)


def _version(ctx: click.Context, param: click.Parameter, value: bool) -> None:
    if value and not ctx.resilient_parsing:
        from . import __version__

        tell(f"cellset {__version__}")
        ctx.exit()


@click.group(
    cls=Verbs, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80}
)
@click.option(
    "--version",
    is_flag=True,
    callback=_version,
    expose_value=False,
    is_eager=True,
    help="Print the version and stop.",
)
@click.option("--debug", is_flag=True, help="Show the program's own trace if it fails.")
def group(debug: bool) -> None:
    """Turn EPUB and DOCX documents into braille-ready files.

    The braille is a draft for a qualified transcriber and proofreader; the rules of your
    braille authority come first.

    Start with: cellset run BOOK.epub --out OUT
    """


def _end(number: int, frame: FrameType | None) -> None:
    """On a request to end, leave every block, so that working folders are removed."""
    sys.exit(128 + number)


def _hear_signals() -> None:
    """End in order where asked to, or where the terminal is closed; what is ignored stays so."""
    for name in ("SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) == signal.SIG_DFL:
            signal.signal(number, _end)


def _asked(words: list[str]) -> list[str]:
    """``help`` and ``help VERB`` as ``--help``."""
    if words[:1] != ["help"]:
        return words
    return [*(word for word in words[1:2] if word in VERBS), "--help"]


def _usage(error: click.ClickException) -> None:
    """Tell what is wrong with the words given; a file whose name begins with a dash is met."""
    shown = io.StringIO()
    error.show(shown)
    said = shown.getvalue().rstrip("\n")
    if isinstance(error, click.NoSuchOption):
        if os.path.exists(error.option_name):
            said += f" If you mean the file of this name, write ./{error.option_name}"
        elif long := _long_options(error):
            said += f" Options are written out: {long}."
    tell(said, err=True)


def _long_options(error: click.NoSuchOption) -> str:
    """The options that begin with the letter of a short one, such as -o."""
    name = error.option_name
    if error.ctx is None or not name.startswith("-") or name.startswith("--"):
        return ""
    names = [opt for param in error.ctx.command.params for opt in param.opts]
    return ", ".join(sorted(opt for opt in names if opt.startswith(f"--{name[1:2]}")))


def main() -> None:
    """Run the command; every refusal is one sentence on standard error."""
    _hear_signals()
    try:
        status = group.main(_asked(sys.argv[1:]), prog_name="cellset", standalone_mode=False)
    except click.Abort:
        tell("Stopped. What was not finished was not written.", err=True)
        sys.exit(130)
    except SystemExit as stop:
        if isinstance(stop.code, int) and stop.code in _STOPPED:
            tell("Stopped. What was not finished was not written.", err=True)
        raise
    except click.ClickException as error:
        _usage(error)
        sys.exit(error.exit_code)
    except ConvertError as error:
        tell(f"cellset: {error}", err=True)
        sys.exit(2 if isinstance(error, JobError | ConventionError) else 1)
    except Exception as error:
        if "--debug" in sys.argv:
            raise
        tell(
            f"cellset: The program failed: {type(error).__name__}: {error}. Please report this, "
            "with what “cellset --debug” and the same command print.",
            err=True,
        )
        sys.exit(1)
    sys.exit(status if isinstance(status, int) else 0)
