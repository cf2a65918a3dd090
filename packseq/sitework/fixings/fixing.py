"""The sheet about fixings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any

from packseq.house.model import House
from packseq.sheet import Column, Part, Section, Sheet, Table, Tick, Ticks, Words
from packseq.sitework.cautions import DEFERRAL, FIXING, NO_FIGURE_DECIDES
from packseq.sitework.fixings.compare import (
    Count,
    Unscheduled,
    counts,
    scheduled_needs,
    unscheduled,
)
from packseq.sitework.fixings.defaults import Finding, default_needs, findings
from packseq.sitework.fixings.model import FUNCTIONS, Bracing, Delivered, Line, Need
from packseq.sitework.fixings.places import places_of
from packseq.sitework.laps.anchors import AnchorRule
from packseq.sitework.laps.plates import PlateChoices, plates_of
from packseq.sitework.tape import tapes

TITLE = "Fixings"
DEFAULT = (
    "DEFAULT SCHEDULE, from published rules: not your job's. Give the consented one with --schedule; "
    "where the two differ, the consented one counts."
)


@dataclass(frozen=True, slots=True)
class Fixings:
    """What is needed where, what is left out, and what came.

    `scheduled` tells whether the needs are those of a schedule that was given, rather than of published
    rules.
    """

    house: House
    scheduled: bool
    needs: tuple[Need, ...]
    left_out: tuple[Unscheduled, ...]
    findings: tuple[Finding, ...]
    counts: tuple[Count, ...]
    bracing_known: bool


@dataclass(frozen=True, slots=True)
class PlateRules:
    """The rules for bottom plates on the slab."""

    external: AnchorRule
    internal: AnchorRule


@dataclass(frozen=True, slots=True)
class FixingFiles:
    """What was given: a schedule, what was delivered, which frames brace; None where not."""

    schedule: tuple[Line, ...] | None = None
    delivered: tuple[Delivered, ...] | None = None
    bracing: tuple[Bracing, ...] | None = None


def plate_choices(house: House, files: FixingFiles, rules: PlateRules) -> PlateChoices:
    """Return the rules for plates with the frames that have hold-downs, by the schedule or as bracing."""
    places = places_of(house, ())
    lines = [line for line in files.schedule or () if line.function == "hold-down" and line.how_many]
    scheduled = {name for line in lines for place in places[line.where] for name in place.frames}
    bracing = {each.frame for each in files.bracing or ()}
    return PlateChoices(rules.external, rules.internal, frozenset(scheduled | bracing))


def study_fixings(house: House, files: FixingFiles, rules: PlateRules) -> Fixings:
    """Work out what is needed where, by the schedule given or else by published rules.

    Parameters
    ----------
    house
        The house.
    files
        The schedule, the delivery, the bracing walls.
    rules
        The rules for bottom plates.
    """
    choices = plate_choices(house, files, rules)
    # From which end a plate is measured makes no difference to how many fixings it takes.
    every = tapes(house, "anticlockwise")
    lowest = house.scenario.levels[0]
    plates = [
        plate
        for tape in every.values()
        if tape.frame.level == lowest
        for plate in plates_of(house, tape, choices)
    ]
    bracing = files.bracing or ()
    published = default_needs(house, bracing, plates, choices)
    needs = published
    left_out: tuple[Unscheduled, ...] = ()
    if files.schedule is not None:
        needs = scheduled_needs(files.schedule, places_of(house, plates))
        left_out = unscheduled(needs, published)
    return Fixings(
        house=house,
        scheduled=files.schedule is not None,
        needs=needs,
        left_out=left_out,
        findings=tuple(findings(house, bracing)),
        counts=counts(needs, files.delivered),
        bracing_known=files.bracing is not None,
    )


def fixings_document(fixings: Fixings) -> dict[str, Any]:
    """Return the fixings as plain data."""
    return {
        "schedule": "given" if fixings.scheduled else "default, from published rules",
        "counts": [{**asdict(count), "verdict": count.verdict} for count in fixings.counts],
        "needs": [asdict(need) for need in fixings.needs],
        "not_on_the_schedule": [asdict(each) for each in fixings.left_out],
        "for_the_engineer": [asdict(each) for each in fixings.findings],
    }


def fixings_sheet(fixings: Fixings) -> Sheet:
    """Return the sheet: what differs, the counts, and where each goes."""
    return Sheet(
        TITLE,
        fixings.house.scenario.name,
        (FIXING, NO_FIGURE_DECIDES, DEFERRAL),
        (
            Section("Which schedule", (Words(tuple(_which(fixings))),)),
            Section("Ask before beginning", tuple(_asking(fixings))),
            Section("How many", (_count_table(fixings),)),
            Section("Where each goes", tuple(_going(fixings))),
        ),
    )


def _which(fixings: Fixings) -> Iterator[str]:
    yield "Schedule as given." if fixings.scheduled else DEFAULT
    if not fixings.bracing_known:
        yield (
            "No bracing walls were given (--bracing): hold-downs and the stronger joints of bracing "
            "walls are not counted by the published rules."
        )
    if len(fixings.house.scenario.levels) > 1:
        yield "Bottom-plate fixings are counted on the slab only: those of upper floors are not worked out."
    yield "Kinds are named by what they do. Every rule and its source: docs/fixings.md."


def _asking(fixings: Fixings) -> Iterator[Part]:
    ticks = [
        Tick(
            f"{each.function}: the schedule has none at {_some(each.places)}; a published rule has "
            f"({each.source})"
        )
        for each in fixings.left_out
    ]
    ticks += [Tick(f"{each.place}: {each.text}") for each in fixings.findings]
    if ticks:
        yield Ticks(tuple(ticks))
    else:
        yield Words(("Nothing that the published rules name is left out here. They do not name everything.",))


def _some(places: tuple[str, ...], most: int = 8) -> str:
    named = ", ".join(places[:most])
    return named if len(places) <= most else f"{named} and {len(places) - most} more ({len(places)})"


def _count_table(fixings: Fixings) -> Table:
    columns = (
        Column("fixing"),
        Column("needed", number=True),
        Column("delivered", number=True, to_fill_in=True),
        Column("more to get", number=True),
        Column("says"),
    )
    return Table(columns, tuple(_count_row(count) for count in fixings.counts))


def _count_row(count: Count) -> tuple[str, ...]:
    if count.delivered is None:
        return count.what, str(count.needed), "", "", ""
    over = f" by {count.delivered - count.needed}" if count.verdict == "over" else ""
    near = f"; is it {count.near}?" if count.near else ""
    short = max(count.needed - count.delivered, 0)
    return count.what, str(count.needed), str(count.delivered), str(short), f"{count.verdict}{over}{near}"


def _going(fixings: Fixings) -> Iterator[Part]:
    columns = (
        Column("fixing"),
        Column("each", number=True),
        Column("at"),
        Column("by"),
        Column("done", to_fill_in=True),
    )
    for function in FUNCTIONS:
        groups: dict[tuple[str, int, str], list[str]] = {}
        for need in fixings.needs:
            if need.function == function:
                groups.setdefault((need.what, need.count, need.source), []).append(need.place)
        rows = tuple(
            (what, str(count), ", ".join(places), source, "")
            for (what, count, source), places in groups.items()
        )
        if rows:
            yield Table(columns, rows, function[0].upper() + function[1:])
