"""The commands, their options and their exit codes.

What is heavy is imported inside the command that needs it.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, NoReturn

import typer

from packseq import __version__
from packseq.cli.streams import show_any_text, write_aside
from packseq.errors import PackseqError
from packseq.scenario.model import Direction, Lap

LONGEST_S = 7 * 24 * 3600.0
"""No search runs longer than a week."""

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


def _within_reason(limit_s: float) -> float:
    # Written so that "nan" is refused too.
    if not 0 < limit_s <= LONGEST_S:
        raise typer.BadParameter(f"must be more than 0 and at most {LONGEST_S:.0f} seconds")
    return limit_s


Folder = Annotated[Path, typer.Argument(metavar="SCENARIO", help="The scenario folder.")]
PlanFile = Annotated[Path, typer.Argument(metavar="PLAN", help="A plan file, such as plan.json.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")]
LapOption = Annotated[
    Lap | None, typer.Option("--lap", help="How the perimeter is lapped, in place of the scenario's own way.")
]
DirectionOption = Annotated[
    Direction | None,
    typer.Option("--direction", help="The direction of the lap, in place of the scenario's own."),
]


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


@app.command()
def check(folder: Folder, *, as_json: AsJson = False) -> None:
    """Read a scenario, check it, and show what was understood."""
    from packseq.cli.checking import check_scenario  # noqa: PLC0415

    check_scenario(folder, as_json=as_json)


@app.command()
def plan(
    folder: Folder,
    *,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FILE", help="Write the plan file here, such as plan.json."),
    ] = None,
    limit_s: Annotated[
        float,
        typer.Option(
            "--limit", metavar="SECONDS", callback=_within_reason, help="Search no longer than this."
        ),
    ] = 60.0,
    seed: Annotated[
        int, typer.Option("--seed", min=0, max=2**31 - 1, help="Another seed may find another plan as good.")
    ] = 0,
    lap: LapOption = None,
    direction: DirectionOption = None,
    force: Annotated[bool, typer.Option("--force", help="Replace an existing plan file.")] = False,
    as_json: AsJson = False,
) -> None:
    """Find the order with the fewest extra lifts, then the least walking.

    Ctrl-C ends the search early and keeps the best plan found by then.
    """
    from packseq.cli.choices import Choices  # noqa: PLC0415
    from packseq.cli.planning import PlanJob, plan_scenario  # noqa: PLC0415

    job = PlanJob(folder, Choices(lap, direction), limit_s=limit_s, seed=seed, out=out, force=force)
    plan_scenario(job, as_json=as_json)


@app.command()
def verify(
    folder: Folder,
    plan_file: PlanFile,
    *,
    lap: LapOption = None,
    direction: DirectionOption = None,
    as_json: AsJson = False,
) -> None:
    """Replay a plan: every broken rule by name, and its true cost.

    For a plan made with --lap or --direction, say the same here.
    """
    from packseq.cli.choices import Choices  # noqa: PLC0415
    from packseq.cli.verifying import verify_plan  # noqa: PLC0415

    verify_plan(folder, plan_file, Choices(lap, direction), as_json=as_json)
