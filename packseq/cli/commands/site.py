"""Lifting, bracing, lapping and fixing on site, and the booklet of the whole job."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packseq.cli.options import AsJson, Folder, Force, Limit, PageOut, PlanFile, PlanOption
from packseq.cli.siteoptions import (
    Anchors,
    Angle,
    BraceSide,
    BracingFile,
    DeliveredFile,
    Each,
    FromEnd,
    Grip,
    Gust,
    Hands,
    Hours,
    InternalAnchors,
    Offset,
    Permanent,
    PerMinute,
    Push,
    Reach,
    Schedule,
    ShareWithin,
    Spacing,
    Stations,
    Tolerances,
    Turn,
)
from packseq.sitework.braces.choices import BraceChoices
from packseq.sitework.laps.stations import STATION_MM
from packseq.sitework.lifts.choices import LiftChoices
from packseq.sitework.usual import OFFSET_MM, REACH_MM, TOLERANCES

_LIFTS, _BRACES = LiftChoices(), BraceChoices()


def lifts(
    folder: Folder,
    *,
    plan_file: PlanOption = None,
    gust_m_per_s: Gust = None,
    each_kg: Each = _LIFTS.each_kg,
    reach_mm: Reach = _LIFTS.reach_mm,
    hands_mm: Hands = _LIFTS.hands_mm,
    turn_deg: Turn = _LIFTS.turn_deg,
    per_minute: PerMinute = _LIFTS.per_minute,
    hours: Hours = _LIFTS.hours,
    grip: Grip = _LIFTS.coupling,
    push_kg: Push = _LIFTS.push_kg,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Show how many people each lift takes.

    And which lifts call for a machine, and from which wind to stop. With --plan every lift of it, in order.
    Not one of the figures decides: the person who leads the work does.
    """
    from packseq.cli.lifting import show_lifting  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415

    choices = LiftChoices(each_kg, reach_mm, hands_mm, turn_deg, per_minute, hours, grip, push_kg)
    show_lifting(SheetOptions(folder, out, force=force, as_json=as_json), choices, plan_file, gust_m_per_s)


def braces(
    folder: Folder,
    plan_file: PlanFile,
    *,
    spacing_mm: Spacing = _BRACES.spacing_mm,
    from_end_mm: FromEnd = _BRACES.from_end_mm,
    angle_deg: Angle = _BRACES.angle_deg,
    side: BraceSide = _BRACES.side,
    permanent_kn: Permanent = None,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Show the temporary braces of a plan.

    What holds each frame, where braces go, what they are cut from.
    """
    from packseq.cli.bracing import show_bracing  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415

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
    station_mm: Stations = STATION_MM,
    tolerances: Tolerances = TOLERANCES,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Show the lap sheets of a plan, with boxes to tick.

    Joins, plates, walls, corners, junctions, top plates, nailing off.
    """
    from packseq.cli.fixing import FixingPaths, LapOptions, rules_named, show_laps  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415

    options = SheetOptions(folder, out, force=force, as_json=as_json)
    paths = FixingPaths(schedule=schedule, bracing=bracing)
    show_laps(
        options, plan_file, paths, LapOptions(rules_named(anchors, internal_anchors), tolerances, station_mm)
    )


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
    offset_mm: Offset = OFFSET_MM,
    share_within_mm: ShareWithin = REACH_MM,
    gust_m_per_s: Gust = None,
    each_kg: Each = _LIFTS.each_kg,
    reach_mm: Reach = _LIFTS.reach_mm,
    hands_mm: Hands = _LIFTS.hands_mm,
    turn_deg: Turn = _LIFTS.turn_deg,
    per_minute: PerMinute = _LIFTS.per_minute,
    hours: Hours = _LIFTS.hours,
    grip: Grip = _LIFTS.coupling,
    push_kg: Push = _LIFTS.push_kg,
    spacing_mm: Spacing = _BRACES.spacing_mm,
    from_end_mm: FromEnd = _BRACES.from_end_mm,
    angle_deg: Angle = _BRACES.angle_deg,
    side: BraceSide = _BRACES.side,
    permanent_kn: Permanent = None,
    station_mm: Stations = STATION_MM,
    tolerances: Tolerances = TOLERANCES,
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

    The options are those of the commands for each part; the first sheet says what was chosen.
    """
    from packseq.cli.booklet import BookletJob, show_booklet  # noqa: PLC0415
    from packseq.cli.fixing import FixingPaths, LapOptions, rules_named  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415
    from packseq.sitework.setout import Choices  # noqa: PLC0415

    show_booklet(
        SheetOptions(folder, out, force=force, as_json=as_json),
        BookletJob(
            plan_file,
            limit_s,
            lines=Choices(offset_mm, share_within_mm),
            lifts=LiftChoices(each_kg, reach_mm, hands_mm, turn_deg, per_minute, hours, grip, push_kg),
            gust_m_per_s=gust_m_per_s,
            braces=BraceChoices(
                spacing_mm=spacing_mm, from_end_mm=from_end_mm, angle_deg=angle_deg, side=side
            ),
            permanent_kn=tuple(permanent_kn or ()),
            laps=LapOptions(rules_named(anchors, internal_anchors), tolerances, station_mm),
            paths=FixingPaths(schedule, delivered, bracing),
        ),
    )
