"""Arguments and options that several commands take."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packseq.scenario.model import Direction, Lap

LONGEST_S = 7 * 24 * 3600.0
"""No search runs longer than a week."""


def within_reason(limit_s: float) -> float:
    """Refuse a limit that is no length of time, or absurd."""
    # Written so that "nan" is refused too.
    if not 0 < limit_s <= LONGEST_S:
        raise typer.BadParameter(f"must be more than 0 and at most {LONGEST_S:.0f} seconds")
    return limit_s


Folder = Annotated[Path, typer.Argument(metavar="SCENARIO", help="The scenario folder.")]
PlanFile = Annotated[Path, typer.Argument(metavar="PLAN", help="A plan file, such as plan.json.")]
PlanOption = Annotated[
    Path | None, typer.Option("--plan", metavar="PLAN", help="The plan that is worked by, such as plan.json.")
]
PlanOut = Annotated[
    Path | None, typer.Option("--out", metavar="FILE", help="Write the plan file here, such as plan.json.")
]
AsJson = Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")]
LapOption = Annotated[
    Lap | None, typer.Option("--lap", help="How the perimeter is lapped, in place of the scenario's own way.")
]
DirectionOption = Annotated[
    Direction | None,
    typer.Option("--direction", help="The direction of the lap, in place of the scenario's own."),
]
Limit = Annotated[
    float,
    typer.Option("--limit", metavar="SECONDS", callback=within_reason, help="Search no longer than this."),
]
Seed = Annotated[
    int, typer.Option("--seed", min=0, max=2**31 - 1, help="Another seed may find another plan as good.")
]
Force = Annotated[bool, typer.Option("--force", help="Replace what exists.")]
PageOut = Annotated[
    Path | None,
    typer.Option("--out", metavar="FILE.html", help="Write the sheet here too, as a page to print."),
]
