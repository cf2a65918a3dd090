"""The command line and its exit codes."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import Annotated, NoReturn

import typer

from packseq import __version__
from packseq.cli.commands import COMMANDS
from packseq.cli.streams import show_any_text, write_aside
from packseq.errors import PackseqError

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Plan in which order a crew stands prefabricated timber wall frames delivered flat in packs.",
)


def main(arguments: Sequence[str] | None = None) -> NoReturn:
    """Run the command line and leave with its exit code.

    Parameters
    ----------
    arguments
        What follows ``packseq``; that of the process unless given.

    Raises
    ------
    SystemExit
        Always: 0 done; 1 bad input; 2 wrong usage; 3 no plan keeps the rules, or a plan
        fails its check; 4 the limit was reached with no plan; 130 interrupted.
    """
    show_any_text()
    try:
        app(args=arguments, prog_name="packseq")
    except PackseqError as error:
        write_aside(error.lines)
        sys.exit(error.exit_code)
    sys.exit(0)


def _print_version(asked: bool) -> None:  # noqa: FBT001 - typer calls it so
    if asked:
        typer.echo(f"packseq {__version__}")
        raise typer.Exit


@app.callback()
def _packseq(
    *,
    version: Annotated[
        bool,
        typer.Option(
            "--version", is_eager=True, callback=_print_version, help="Print the version and leave."
        ),
    ] = False,
) -> None:
    pass


for _name, _command in COMMANDS.items():
    app.command(_name)(_command)
