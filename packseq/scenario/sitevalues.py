"""The values that site.toml may hold: names, sizes, outlines, each with what is wrong with it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

import shapely
from pydantic import AfterValidator, BaseModel, ConfigDict, Field, Strict, ValidationInfo
from pydantic_core import PydanticCustomError

from packseq.geometry import Point, Ring
from packseq.scenario import limits
from packseq.scenario.names import KnownNames, name_fault, shown


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


def known_frames(info: ValidationInfo) -> KnownFrames:
    """Return what frames.csv says: the context that site.toml is validated with."""
    frames = info.context
    if not isinstance(frames, KnownFrames):
        message = "site.toml is validated with KnownFrames as its context"
        raise TypeError(message)
    return frames


def _name(text: str) -> str:
    fault = name_fault(text.strip())
    if fault is not None:
        raise wrong(fault)
    return text.strip()


def _frame_name(text: str, info: ValidationInfo) -> str:
    names = known_frames(info).names
    fault = names.fault(text)
    if fault is not None:
        raise wrong(fault)
    return names.find(text) or text.strip()


def _level(level: int, info: ValidationInfo) -> int:
    frames = known_frames(info)
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


def once(names: tuple[str, ...] | None) -> tuple[str, ...] | None:
    """Refuse a list that names a frame more than once."""
    for name, count in Counter(names).items():
        if count > 1:
            raise wrong(f"names frame {shown(name)} {count} times")
    return names


Coordinate = Annotated[
    float, Strict(), Field(ge=-limits.COORDINATE_MM, le=limits.COORDINATE_MM, allow_inf_nan=False)
]
Bearing = Annotated[float, Strict(), Field(ge=-360, le=360, allow_inf_nan=False)]
Size = Annotated[float, Strict(), Field(gt=0, le=100_000, allow_inf_nan=False)]
Allowance = Annotated[float, Strict(), Field(ge=0, le=500, allow_inf_nan=False)]
Mass = Annotated[float, Strict(), Field(gt=0, le=100_000, allow_inf_nan=False)]
Count = Annotated[int, Strict(), Field(ge=0, le=1000)]
Name = Annotated[str, AfterValidator(_name)]
FrameName = Annotated[str, AfterValidator(_frame_name)]
Level = Annotated[int, Strict(), Field(ge=1, le=limits.MOST_LEVELS), AfterValidator(_level)]
PointMm = tuple[Coordinate, Coordinate]
Outline = Annotated[tuple[PointMm, ...], Field(max_length=limits.MOST_POINTS), AfterValidator(_outline)]


class SiteTable(BaseModel):
    """Base of every table of site.toml: frozen, unknown keys refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")
