"""site.toml: what each of its tables may hold, checked against the frames."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

import shapely
from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    Strict,
    ValidationInfo,
)
from pydantic_core import PydanticCustomError

from packseq.geometry import Point, Ring
from packseq.scenario import limits
from packseq.scenario.model import Crew, Direction, Lap, Place, Spot, SpotKind, StandChoices
from packseq.scenario.names import KnownNames, name_fault, shown
from packseq.scenario.rates import TimeRates


@dataclass(frozen=True, slots=True)
class KnownFrames:
    """What frames.csv says, for checking names and levels in site.toml against it.

    `levels` maps each frame whose level could be read to it.
    """

    names: KnownNames
    levels: Mapping[str, int]


def wrong(text: str) -> PydanticCustomError:
    """Return an error whose text is already in trade words."""
    return PydanticCustomError("plain", "{text}", {"text": text})


def _frames(info: ValidationInfo) -> KnownFrames:
    frames = info.context
    if not isinstance(frames, KnownFrames):
        message = "site.toml is validated with KnownFrames as its context"
        raise TypeError(message)
    return frames


def _format(value: int) -> int:
    if value != 1:
        raise wrong("must be 1: no other format can be read")
    return value


def _title(text: str) -> str:
    fault = name_fault(text.strip(), limits.TITLE_LENGTH)
    if fault is not None:
        raise wrong(fault)
    return text.strip()


def _name(text: str) -> str:
    fault = name_fault(text.strip())
    if fault is not None:
        raise wrong(fault)
    return text.strip()


def _frame_name(text: str, info: ValidationInfo) -> str:
    names = _frames(info).names
    fault = names.fault(text)
    if fault is not None:
        raise wrong(fault)
    return names.find(text) or text.strip()


def _level(level: int, info: ValidationInfo) -> int:
    frames = _frames(info)
    there = sorted(set(frames.levels.values()))
    if frames.names.complete and len(frames.levels) == len(frames.names.spelling) and level not in there:
        raise wrong(f"no frame is of level {level}; the frames are of level {', '.join(map(str, there))}")
    return level


def _outline(points: Ring) -> Ring:
    ring = points[:-1] if len(points) > 1 and points[0] == points[-1] else points
    if len(ring) < 3:  # noqa: PLR2004 (a triangle)
        raise wrong(f"has {len(ring)} different points; an outline has at least 3")
    repeats = [point for point, count in Counter(ring).items() if count > 1]
    if repeats:
        raise wrong(f"passes twice through {_written(repeats[0])}")
    polygon = shapely.Polygon(ring)
    if polygon.area == 0 and shapely.LineString(ring).is_simple:
        raise wrong("encloses no ground: its points lie on one line")
    reason = shapely.is_valid_reason(polygon)
    if reason != "Valid Geometry":
        place = re.search(r"\[(\S+) (\S+)\]", reason)
        raise wrong("crosses itself" + (f" at {place[1]}, {place[2]}" if place else ""))
    return ring


def _written(point: Point) -> str:
    return f"{point[0]:.10g}, {point[1]:.10g}"


def _reference(value: object) -> object:
    if isinstance(value, str):
        if value != "auto":
            raise wrong(f'must be "auto" or a list of frame names, not {shown(value)}')
        return None
    return value


def _once(names: tuple[str, ...] | None) -> tuple[str, ...] | None:
    for name, count in Counter(names).items():
        if count > 1:
            raise wrong(f"names frame {shown(name)} {count} times")
    return names


def _pair(names: tuple[str, str], info: ValidationInfo) -> tuple[str, str]:
    first, second = names
    levels = _frames(info).levels
    if first == second:
        raise wrong(f"names frame {shown(first)} twice; a gap lies between two frames")
    if first in levels and second in levels and levels[first] != levels[second]:
        raise wrong(f"frame {first} is of level {levels[first]}, frame {second} of level {levels[second]}")
    return names


Coordinate = Annotated[
    float, Strict(), Field(ge=-limits.COORDINATE_MM, le=limits.COORDINATE_MM, allow_inf_nan=False)
]
Bearing = Annotated[float, Strict(), Field(ge=-360, le=360, allow_inf_nan=False)]
Size = Annotated[float, Strict(), Field(gt=0, le=100_000, allow_inf_nan=False)]
Allowance = Annotated[float, Strict(), Field(ge=0, le=500, allow_inf_nan=False)]
Count = Annotated[int, Strict(), Field(ge=0, le=1000)]
Pace = Annotated[float, Strict(), Field(ge=0.05, le=3, allow_inf_nan=False)]
Seconds = Annotated[float, Strict(), Field(ge=0, le=7200, allow_inf_nan=False)]
Name = Annotated[str, AfterValidator(_name)]
FrameName = Annotated[str, AfterValidator(_frame_name)]
Level = Annotated[int, Strict(), Field(ge=1, le=limits.MOST_LEVELS), AfterValidator(_level)]
PointMm = tuple[Coordinate, Coordinate]
Outline = Annotated[tuple[PointMm, ...], Field(max_length=limits.MOST_POINTS), AfterValidator(_outline)]


_RATES = TimeRates()


class SiteTable(BaseModel):
    """Base of every table of site.toml: frozen, unknown keys refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class SlabTable(SiteTable):
    """``[slab]``."""

    outline_mm: Outline


class StandTable(SiteTable):
    """``[stand]``: how the supervisor wants the building lapped."""

    reference: Annotated[
        tuple[FrameName, ...] | None,
        Field(min_length=1, max_length=limits.MOST_FRAMES),
        BeforeValidator(_reference),
        AfterValidator(_once),
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
