"""Keeping up with the day: noting what happened, how far the job is, and the plan from there."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packseq.cli.options import (
    AsJson,
    DirectionOption,
    Folder,
    Force,
    LapOption,
    Limit,
    PlanOption,
    PlanOut,
    Seed,
)
from packseq.cli.ranges import between

JournalFile = Annotated[
    Path, typer.Option("--journal", metavar="FILE", help="The journal, such as day.jsonl.")
]


def record(
    folder: Folder,
    words: Annotated[
        list[str],
        typer.Argument(
            metavar="WHAT...",
            help="stood FRAME | aside FRAME --spot S or --pack P | missing FRAME | damaged FRAME | "
            "found FRAME --spot S, or --pack P --layer N | landed PACK --at X Y | crew PEOPLE | "
            "undone EVENT NAME",
        ),
    ],
    *,
    journal: JournalFile,
    plan_file: PlanOption = None,
    spot: Annotated[
        str | None, typer.Option("--spot", metavar="SPOT", help="The spot it lies on now.")
    ] = None,
    pack: Annotated[
        str | None, typer.Option("--pack", metavar="PACK", help="The pack that it lies on, or was found in.")
    ] = None,
    layer: Annotated[
        int | None, typer.Option("--layer", min=1, max=1000, help="The layer of the pack it was found in.")
    ] = None,
    at_mm: Annotated[
        tuple[float, float] | None,
        typer.Option("--at", metavar="X Y", help="Where the pack landed: its centre, in mm."),
    ] = None,
    bearing_deg: Annotated[
        float | None,
        typer.Option(
            "--bearing",
            metavar="DEGREES",
            callback=between(-360, 360),
            help="How the long side of the pack lies, anticlockwise from east. [default: 0]",
        ),
    ] = None,
    note: Annotated[str | None, typer.Option("--note", metavar="TEXT", help="A remark, for people.")] = None,
    as_json: AsJson = False,
) -> None:
    """Note in the journal what happened, and say what comes next.

    For example: packseq record my-house stood E12 --journal day.jsonl
    """
    from packseq.cli.noting import Asked  # noqa: PLC0415
    from packseq.cli.recording import RecordJob, record_event  # noqa: PLC0415

    asked = Asked(tuple(words), spot, pack, layer, at_mm, bearing_deg, note)
    asked.refuse_misused()
    record_event(RecordJob(folder, journal, plan_file, asked), as_json=as_json)


def status(
    folder: Folder, *, journal: JournalFile, plan_file: PlanOption = None, as_json: AsJson = False
) -> None:
    """Show how far the job is and what comes next.

    Also what waits where, and what is amiss.
    """
    from packseq.cli.standing_now import show_status  # noqa: PLC0415

    show_status(folder, journal, plan_file, as_json=as_json)


def replan(
    folder: Folder,
    *,
    journal: JournalFile,
    plan_file: PlanOption = None,
    out: PlanOut = None,
    limit_s: Limit = 60.0,
    seed: Seed = 0,
    lap: LapOption = None,
    direction: DirectionOption = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Find the best plan from here on.

    What stands stays, and what lies somewhere is taken from there. What is missing, damaged or too
    heavy for the crew is left out, with all that the rules hold back for it.
    """
    from packseq.cli.choices import Choices  # noqa: PLC0415
    from packseq.cli.replanning import ReplanJob, replan_scenario  # noqa: PLC0415

    job = ReplanJob(
        folder, journal, plan_file, Choices(lap, direction), limit_s=limit_s, seed=seed, out=out, force=force
    )
    replan_scenario(job, as_json=as_json)
