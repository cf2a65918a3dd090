"""site.toml: what each of its tables may hold, checked against the frames."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field, Strict, ValidationInfo

from packseq.scenario import limits
from packseq.scenario.loadlimits import Deck
from packseq.scenario.loadtable import LoadTable
from packseq.scenario.model import Crew, Direction, Landing, Lap, Place, Spot, SpotKind, StandChoices
from packseq.scenario.names import name_fault, shown
from packseq.scenario.rates import TimeRates
from packseq.scenario.sitevalues import (
    Allowance,
    Bearing,
    Coordinate,
    Count,
    FrameName,
    Level,
    Mass,
    Name,
    Outline,
    PointMm,
    SiteTable,
    Size,
    known_frames,
    once,
    wrong,
)


def _format(value: int) -> int:
    if value != 1:
        raise wrong("must be 1: no other format can be read")
    return value


def _title(text: str) -> str:
    fault = name_fault(text.strip(), limits.TITLE_LENGTH)
    if fault is not None:
        raise wrong(fault)
    return text.strip()


def _reference(value: object) -> object:
    if isinstance(value, str):
        if value != "auto":
            raise wrong(f'must be "auto" or a list of frame names, not {shown(value)}')
        return None
    return value


def _pair(names: tuple[str, str], info: ValidationInfo) -> tuple[str, str]:
    first, second = names
    levels = known_frames(info).levels
    if first == second:
        raise wrong(f"names frame {shown(first)} twice; a gap lies between two frames")
    if first in levels and second in levels and levels[first] != levels[second]:
        raise wrong(f"frame {first} is of level {levels[first]}, frame {second} of level {levels[second]}")
    return names


Pace = Annotated[float, Strict(), Field(ge=0.05, le=3, allow_inf_nan=False)]
Seconds = Annotated[float, Strict(), Field(ge=0, le=7200, allow_inf_nan=False)]

_RATES = TimeRates()


class SlabTable(SiteTable):
    """``[slab]``."""

    outline_mm: Outline


class StandTable(SiteTable):
    """``[stand]``: how the supervisor wants the building lapped."""

    reference: Annotated[
        tuple[FrameName, ...] | None,
        Field(min_length=1, max_length=limits.MOST_FRAMES),
        BeforeValidator(_reference),
        AfterValidator(once),
    ] = None
    lap: Lap = "one-way"
    direction: Direction = "auto"
    hold_open: Count = 1
    internals: Literal["after-perimeter", "any-time"] = "after-perimeter"
    lift_worth_m: Annotated[float, Strict(), Field(ge=0, le=100_000, allow_inf_nan=False)] = 0.0

    def choices(self) -> StandChoices:
        """Return the table as the domain knows it."""
        return StandChoices(
            reference=self.reference,
            lap=self.lap,
            direction=self.direction,
            hold_open=self.hold_open,
            internals_any_time=self.internals == "any-time",
            lift_worth_m=self.lift_worth_m,
        )


class CrewTable(SiteTable):
    """``[crew]``."""

    people: Annotated[int, Strict(), Field(ge=1, le=100)]
    share_kg: Annotated[float, Strict(), Field(gt=0, le=200, allow_inf_nan=False)] = 25.0

    def crew(self) -> Crew:
        """Return the table as the domain knows it."""
        return Crew(self.people, self.share_kg)


class TimeTable(SiteTable):
    """``[time]``: the defaults are those of `TimeRates`."""

    empty_m_per_s: Pace = _RATES.empty_m_per_s
    loaded_m_per_s: Pace = _RATES.loaded_m_per_s
    lift_off_s: Seconds = _RATES.lift_off_s
    stand_s: Seconds = _RATES.stand_s
    set_aside_s: Seconds = _RATES.set_aside_s

    def rates(self) -> TimeRates:
        """Return the table as the domain knows it."""
        return TimeRates(**{name: getattr(self, name) for name in type(self).model_fields})


class PackTable(SiteTable):
    """``[[pack]]``: where a pack is landed. One of `at_mm` and `places_mm` is given, never both."""

    name: Name
    at_mm: PointMm | None = None
    places_mm: Annotated[
        tuple[tuple[Coordinate, Coordinate, Bearing], ...] | None,
        Field(min_length=1, max_length=limits.MOST_PLACES),
    ] = None
    bearing_deg: Bearing = 0.0
    level: Level = 1
    holds: Count = 0
    most_kg: Mass | None = None

    def landing(self) -> Landing:
        """Return the table as the domain knows it."""
        return Landing(self.name, self.level, self.places(), self.holds, self.most_kg)

    def places(self) -> tuple[Place, ...]:
        """Return the one place, or those that the plan chooses from."""
        if self.at_mm is not None:
            return (Place(self.at_mm, self.bearing_deg),)
        return tuple(Place((x, y), bearing) for x, y, bearing in self.places_mm or ())


class SpotTable(SiteTable):
    """``[[spot]]``: where set-aside frames may wait."""

    name: Name
    at_mm: PointMm
    bearing_deg: Bearing = 0.0
    size_mm: tuple[Size, Size]
    kind: SpotKind
    holds: Annotated[int, Strict(), Field(ge=1, le=1000)]
    level: Level = 1

    def spot(self) -> Spot:
        """Return the table as the domain knows it."""
        return Spot(self.name, self.level, self.at_mm, self.bearing_deg, self.size_mm, self.kind, self.holds)


class GapTable(SiteTable):
    """``[[gap]]``: two neighbours in the perimeter that do not touch."""

    between: Annotated[tuple[FrameName, FrameName], AfterValidator(_pair)]


class NoGoTable(SiteTable):
    """``[[no_go]]``: ground that nobody crosses."""

    outline_mm: Outline


class DeckTable(SiteTable):
    """``[[deck]]``: the bed of a truck that packs travel on."""

    name: Name
    length_mm: Size
    most_kg: Mass

    def deck(self) -> Deck:
        """Return the table as the domain knows it."""
        return Deck(self.name, self.length_mm, self.most_kg)


class Site(SiteTable):
    """The whole of site.toml."""

    format: Annotated[int, Strict(), AfterValidator(_format)]
    name: Annotated[str, AfterValidator(_title)]
    join_gap_mm: Allowance = 30.0
    clearance_mm: Allowance = 50.0
    slab: SlabTable
    stand: StandTable = StandTable()
    crew: CrewTable
    time: TimeTable = TimeTable()
    pack: Annotated[tuple[PackTable, ...], Field(min_length=1, max_length=limits.MOST_PACKS)]
    spot: Annotated[tuple[SpotTable, ...], Field(max_length=limits.MOST_SPOTS)] = ()
    gap: Annotated[tuple[GapTable, ...], Field(max_length=limits.MOST_GAPS)] = ()
    no_go: Annotated[tuple[NoGoTable, ...], Field(max_length=limits.MOST_AREAS)] = ()
    load: LoadTable = LoadTable()
    deck: Annotated[tuple[DeckTable, ...], Field(max_length=limits.MOST_PACKS)] = ()
