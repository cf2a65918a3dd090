"""Lifting, bracing, lapping and fixing on site, and the booklet of the whole job."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packseq.cli.options import AsJson, Folder, Force, Limit, PageOut, PlanFile
from packseq.cli.ranges import between, each_between
from packseq.sitework.anchornames import AnchorName
from packseq.sitework.braces.choices import Side
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


Schedule = Annotated[
    Path | None,
    typer.Option("--schedule", metavar="FILE.csv", help="The fixing schedule: what, where, how_many."),
]
DeliveredFile = Annotated[
    Path | None,
    typer.Option("--delivered", metavar="FILE.csv", help="What was delivered: what, how_many."),
]
BracingFile = Annotated[
    Path | None,
    typer.Option("--bracing", metavar="FILE.csv", help="The bracing walls: frame, bracing_units."),
]
Anchors = Annotated[
    AnchorName, typer.Option("--anchors", help="The rule for bottom plates of external frames.")
]
InternalAnchors = Annotated[
    AnchorName | None,
    typer.Option("--internal-anchors", help="The rule for internal ones. [default: the same]"),
]


def lifts(
    folder: Folder,
    *,
    plan_file: PlanOption = None,
    gust_m_per_s: Gust = None,
    each_kg: Annotated[
        float | None,
        typer.Option(
            "--each",
            metavar="KG",
            callback=between(1, 100),
            help="What one person could lift alone, for the team guidance. [default: the crew's share]",
        ),
    ] = None,
    reach_mm: Annotated[
        float,
        typer.Option(
            "--reach", metavar="MM", callback=between(100, 1000), help="From the ankles out to the hands."
        ),
    ] = 400,
    hands_mm: Annotated[
        float | None,
        typer.Option(
            "--hands",
            metavar="MM",
            callback=between(0, 2500),
            help="Height of the hands at lift-off. [default: from where each frame lies]",
        ),
    ] = None,
    turn_deg: Annotated[
        float,
        typer.Option(
            "--turn", metavar="DEGREES", callback=between(0, 180), help="How far the load lies to the side."
        ),
    ] = 0,
    per_minute: Annotated[
        float, typer.Option("--per-minute", metavar="LIFTS", callback=between(0, 60), help="Lifts a minute.")
    ] = RATES[0],
    hours: Annotated[
        float,
        typer.Option(
            "--hours",
            metavar="HOURS",
            callback=between(0.1, MOST_HOURS),
            help="Hours of lifting work in the day.",
        ),
    ] = MOST_HOURS,
    grip: Annotated[Coupling, typer.Option("--grip", help="How good the grip is.")] = "poor",
    push_kg: Annotated[
        float,
        typer.Option(
            "--push",
            metavar="KG",
            callback=between(1, 50),
            help="What one person can push and keep up, in kg of force.",
        ),
    ] = 7,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Show how many people each lift takes.

    And which lifts call for a machine, and from which wind to stop.
    Not one of the figures decides: the person who leads the work does.
    """
    from packseq.cli.lifting import show_lifting  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415
    from packseq.sitework.lifts.assess import LiftChoices  # noqa: PLC0415

    choices = LiftChoices(each_kg, reach_mm, hands_mm, turn_deg, per_minute, hours, grip, push_kg)
    show_lifting(SheetOptions(folder, out, force=force, as_json=as_json), choices, plan_file, gust_m_per_s)


def braces(
    folder: Folder,
    plan_file: PlanFile,
    *,
    spacing_mm: Annotated[
        float,
        typer.Option(
            "--spacing", metavar="MM", callback=between(600, 10000), help="Most from one brace to the next."
        ),
    ] = 3000,
    from_end_mm: Annotated[
        float,
        typer.Option(
            "--from-end", metavar="MM", callback=between(100, 2000), help="Most from an end to its brace."
        ),
    ] = 600,
    angle_deg: Annotated[
        float,
        typer.Option(
            "--angle", metavar="DEGREES", callback=between(30, 60), help="Wanted angle with the floor."
        ),
    ] = 45,
    side: Annotated[
        Side, typer.Option("--side", help="Where an external frame's braces go where both sides have room.")
    ] = "inside",
    permanent_kn: Annotated[
        list[float] | None,
        typer.Option(
            "--permanent",
            metavar="KN",
            callback=each_between(0, 10_000),
            help="The engineer's racking force of the permanent bracing, for each direction.",
        ),
    ] = None,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Show the temporary braces of a plan.

    What holds each frame, where braces go, what they are cut from.
    """
    from packseq.cli.bracing import show_bracing  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415
    from packseq.sitework.braces.choices import BraceChoices  # noqa: PLC0415

    choices = BraceChoices(spacing_mm=spacing_mm, from_end_mm=from_end_mm, angle_deg=angle_deg, side=side)
    forces = tuple(permanent_kn or ())
    show_bracing(SheetOptions(folder, out, force=force, as_json=as_json), plan_file, choices, forces)


def laps(
    folder: Folder,
    plan_file: PlanFile,
    *,
    anchors: Anchors = "nz-drilled",
    internal_anchors: InternalAnchors = None,
    schedule: Schedule = None,
    bracing: BracingFile = None,
    station_mm: Annotated[
        float,
        typer.Option(
            "--stations",
            metavar="MM",
            callback=between(500, 10000),
            help="Most from one reading to the next.",
        ),
    ] = 2500,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Show the lap sheets of a plan, with boxes to tick.

    Joins, plates, walls, corners, junctions, top plates, nailing off.
    """
    from packseq.cli.fixing import FixingPaths, rules_named, show_laps  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415

    options = SheetOptions(folder, out, force=force, as_json=as_json)
    paths = FixingPaths(schedule=schedule, bracing=bracing)
    show_laps(options, plan_file, paths, rules_named(anchors, internal_anchors), station_mm)


def fixings(
    folder: Folder,
    *,
    schedule: Schedule = None,
    delivered: DeliveredFile = None,
    bracing: BracingFile = None,
    anchors: Anchors = "nz-drilled",
    internal_anchors: InternalAnchors = None,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Show which fixings go where, and what is missing.

    Also what the schedule leaves out, and what is short or over. Without --schedule: a default one from
    published rules, marked as such; the schedule in the consent is the one that counts.
    """
    from packseq.cli.fixing import FixingPaths, rules_named, show_fixings  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415

    options = SheetOptions(folder, out, force=force, as_json=as_json)
    paths = FixingPaths(schedule, delivered, bracing)
    show_fixings(options, paths, rules_named(anchors, internal_anchors))


def job(
    folder: Folder,
    plan_file: Annotated[
        Path | None, typer.Argument(metavar="PLAN", help="A plan file; without one a plan is searched for.")
    ] = None,
    *,
    gust_m_per_s: Gust = None,
    schedule: Schedule = None,
    delivered: DeliveredFile = None,
    bracing: BracingFile = None,
    anchors: Anchors = "nz-drilled",
    internal_anchors: InternalAnchors = None,
    limit_s: Limit = 60.0,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FILE.html", help="Write the booklet here, as one page to print."),
    ] = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Make the booklet of the whole job, with hold points.

    From the slab check to the sign-off.
    """
    from packseq.cli.booklet import BookletJob, show_booklet  # noqa: PLC0415
    from packseq.cli.fixing import FixingPaths, rules_named  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415

    paths, rules = FixingPaths(schedule, delivered, bracing), rules_named(anchors, internal_anchors)
    options = SheetOptions(folder, out, force=force, as_json=as_json)
    show_booklet(options, BookletJob(plan_file, paths, rules, gust_m_per_s, limit_s))
