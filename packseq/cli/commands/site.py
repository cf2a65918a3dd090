"""Lifting, bracing, lapping and fixing on site, and the booklet of the whole job."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packseq.cli.options import AsJson, Folder, Force, PageOut
from packseq.cli.ranges import between
from packseq.sitework.lifts.niosh import MOST_HOURS, RATES, Coupling

PlanOption = Annotated[
    Path | None, typer.Option("--plan", metavar="PLAN", help="A plan file: every lift of it, in order.")
]
Gust = Annotated[
    float | None,
    typer.Option(
        "--gust", metavar="M_PER_S", callback=between(0, 100), help="The forecast gust, in metres a second."
    ),
]


def lifts(
    folder: Folder,
    *,
    plan_file: PlanOption = None,
    gust_m_per_s: Gust = None,
    each_kg: Annotated[
        float | None,
        typer.Option(
            "--each-kg",
            callback=between(1, 100),
            help="What one person could lift alone, for the team guidance. [default: the crew's share]",
        ),
    ] = None,
    reach_mm: Annotated[
        float,
        typer.Option("--reach-mm", callback=between(100, 1000), help="From the ankles out to the hands."),
    ] = 400,
    hands_mm: Annotated[
        float | None,
        typer.Option(
            "--hands-mm",
            callback=between(0, 2500),
            help="Height of the hands at lift-off. [default: from where each frame lies]",
        ),
    ] = None,
    turn_deg: Annotated[
        float, typer.Option("--turn-deg", callback=between(0, 180), help="How far the load lies to the side.")
    ] = 0,
    per_minute: Annotated[
        float, typer.Option("--per-minute", callback=between(0, 60), help="Lifts a minute.")
    ] = RATES[0],
    hours: Annotated[
        float,
        typer.Option("--hours", callback=between(0.1, MOST_HOURS), help="Hours of lifting work in the day."),
    ] = MOST_HOURS,
    grip: Annotated[Coupling, typer.Option("--grip", help="How good the grip is.")] = "poor",
    push_kg: Annotated[
        float,
        typer.Option(
            "--push-kg", callback=between(1, 50), help="What one person can push and keep up, in kg of force."
        ),
    ] = 7,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Show how many people each lift takes, which call for a machine, and from which wind to stop.

    Not one of the figures decides: the person who leads the work does.
    """
    from packseq.cli.lifting import show_lifting  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415
    from packseq.sitework.lifts.assess import LiftChoices  # noqa: PLC0415

    choices = LiftChoices(each_kg, reach_mm, hands_mm, turn_deg, per_minute, hours, grip, push_kg)
    show_lifting(SheetOptions(folder, out, force, as_json), choices, plan_file, gust_m_per_s)
