"""A storey of a model as a scenario folder; what the model does not say gets a plain default, and is said."""

from __future__ import annotations

import math
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from packseq.entry.ifc.read import Account, ModelStorey
from packseq.entry.ifc.walls import ModelWall
from packseq.entry.starter import Start, StarterPack, pack_names, packs_along_south, site_text
from packseq.entry.tables import Grid, frames_grid, openings_grid
from packseq.errors import Fault, InputError
from packseq.files import write_whole
from packseq.geometry import Point, strip, whole_mm
from packseq.house.derive import derive_house
from packseq.house.joins import find_joins
from packseq.house.location import free_ends, likely_bridges
from packseq.house.model import House
from packseq.scenario import limits
from packseq.scenario.files import PACKS, SITE
from packseq.scenario.mass import estimate_mass_kg
from packseq.scenario.model import Crew, Frame
from packseq.scenario.names import name_fault
from packseq.scenario.read import read_scenario
from packseq.scenario.stacks import PACKS_SHAPE

IN_A_PACK = 12
"""Frames put in each invented pack; common practice, no source."""

_THICK_MM = 200.0
"""A frame's timber is seldom deeper; common practice, no source."""

_LEAST_PEOPLE = 4
_BETWEEN_PACKS_MM = 1000.0
_SLAB_MM = 10.0
_JOIN_GAP_MM = 30.0
_MOST_GAPS = 12
"""A way round that is open in more places is no house with gaps, and none are guessed."""


@dataclass(frozen=True, slots=True)
class Imported:
    """The files of a scenario made of a storey, and what is to be known of it.

    `joins` is how the model's joins and geometry compare, `assumed` are the plain defaults for
    what the model does not say, `faults` what is still to be mended before the house can be
    planned, and `house` the house when there is nothing.
    """

    name: str
    files: Mapping[str, str]
    accounts: tuple[Account, ...]
    joins: tuple[str, ...]
    assumed: tuple[str, ...]
    faults: tuple[Fault, ...]
    house: House | None


def scenario_of(storey: ModelStorey, file: str) -> Imported:
    """Return a storey as the files of a scenario folder.

    Raises
    ------
    InputError
        When not one of its walls could be taken, or there are too many.
    """
    if not storey.frames:
        raise InputError(Fault(file, f"{account.called}: {account.refused}") for account in storey.accounts)
    if len(storey.frames) > limits.MOST_FRAMES:
        text = f"comes to {len(storey.frames)} frames; at most {limits.MOST_FRAMES} are planned"
        raise InputError([Fault(file, text)])
    frames = tuple(_frame(name, wall, row) for row, (name, wall) in enumerate(storey.frames.items(), start=2))
    title = " ".join(part for part in (storey.project, storey.storey) if part)[: limits.TITLE_LENGTH]
    start = Start(
        name=title if name_fault(title, limits.TITLE_LENGTH) is None else "imported model",
        outline=_round_about(frames),
        people=_people(frames),
        packs=_packs(frames),
    )
    bare = _files(start, frames)
    house, faults = _tried(bare)
    gaps = () if house is not None else _gaps(frames)
    if gaps:
        closed = _files(replace(start, gaps=gaps), frames)
        house, closed_faults = _tried(closed)
        if house is not None or len(closed_faults) < len(faults):
            bare, faults = closed, closed_faults
        else:
            gaps = ()
    return Imported(
        name=start.name,
        files=bare,
        accounts=storey.accounts,
        joins=storey.joins,
        assumed=tuple(_assumed(storey, start, frames, gaps)),
        faults=faults,
        house=house,
    )


def _frame(name: str, wall: ModelWall, row: int) -> Frame:
    length_mm = math.dist(wall.start, wall.end)
    estimate_kg = estimate_mass_kg(length_mm, wall.height_mm, wall.thickness_mm, wall.openings)
    return Frame(
        name=name,
        level=1,
        start=wall.start,
        end=wall.end,
        height_mm=wall.height_mm,
        thickness_mm=wall.thickness_mm,
        location=wall.location,
        mass_kg=estimate_kg if wall.mass_kg is None else wall.mass_kg,
        mass_is_estimate=wall.mass_kg is None,
        openings=wall.openings,
        row=row,
    )


def _round_about(frames: Sequence[Frame]) -> tuple[Point, ...]:
    """Return the upright rectangle round all frames, to whole centimetres."""
    points = [point for frame in frames for point in strip(frame.start, frame.end, frame.thickness_mm)]
    left, bottom = (math.floor(min(values) / _SLAB_MM) * _SLAB_MM for values in zip(*points, strict=True))
    right, top = (math.ceil(max(values) / _SLAB_MM) * _SLAB_MM for values in zip(*points, strict=True))
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def _people(frames: Sequence[Frame]) -> int:
    """Return how many people the heaviest frame needs, or four."""
    crew = Crew(people=_LEAST_PEOPLE)
    return max(_LEAST_PEOPLE, *(crew.team(frame.mass_kg) for frame in frames))


def _packs(frames: Sequence[Frame]) -> tuple[StarterPack, ...]:
    longest_mm = max(frame.length_mm for frame in frames)
    count = math.ceil(len(frames) / IN_A_PACK)
    return packs_along_south(_round_about(frames), count, longest_mm + _BETWEEN_PACKS_MM)


def _files(start: Start, frames: Sequence[Frame]) -> dict[str, str]:
    names = pack_names(len(start.packs))
    packs = Grid(
        PACKS,
        PACKS_SHAPE.columns,
        tuple(
            (names[place // IN_A_PACK], place % IN_A_PACK + 1, frame.name)
            for place, frame in enumerate(frames)
        ),
    )
    tables = (frames_grid(frames), openings_grid(frames), packs)
    return {SITE: site_text(start), **{grid.file: grid.csv_text() for grid in tables}}


def _tried(files: Mapping[str, str]) -> tuple[House | None, tuple[Fault, ...]]:
    """Read the files back as any scenario is read; returns the house, or what is wrong with it."""
    with tempfile.TemporaryDirectory() as folder:
        for name, text in files.items():
            write_whole(Path(folder) / name, text, force=False)
        try:
            return derive_house(read_scenario(Path(folder))), ()
        except InputError as error:
            return None, error.faults


def _gaps(frames: Sequence[Frame]) -> tuple[tuple[str, str], ...]:
    """Return the gaps that would close the way round: each free end outside to the next nearest."""
    by_name = {frame.name: frame for frame in frames}
    ends = [
        (frame, point)
        for frame, point in free_ends(by_name, find_joins(frames, _JOIN_GAP_MM), _JOIN_GAP_MM)
        if frame.location != "internal"
    ]
    pairs = {tuple(sorted((first.name, second.name))) for first, second in likely_bridges(ends)}
    return tuple((first, second) for first, second in sorted(pairs)) if len(pairs) <= _MOST_GAPS else ()


def _assumed(
    storey: ModelStorey, start: Start, frames: Sequence[Frame], gaps: Sequence[tuple[str, str]]
) -> list[str]:
    """Return what was invented, one line each."""
    estimated = sum(frame.mass_is_estimate for frame in frames)
    unlocated = sum(frame.location is None for frame in frames)
    thick = sum(frame.thickness_mm > _THICK_MM for frame in frames)
    packs = f"{len(start.packs)}, invented, of up to {IN_A_PACK} frames each in the order of the model"
    crew = f"{start.people} people taking 25 kg each, as many as the heaviest frame needs"
    lines = [
        f"Packs: {packs}, the first on top. Replace packs.csv with how the frames are really stacked.",
        "Where the packs land: side by side to the south of the house. Put in the true places in site.toml.",
        f"Crew: {crew} and at least {_LEAST_PEOPLE}.",
        "Slab: the rectangle round all frames.",
    ]
    if thick:
        text = "are taken as thick as the whole wall; if the frame is only a part of it, put in its thickness"
        lines.append(f"Thickness: {thick} frames over {_THICK_MM:.0f} mm {text} and move its line.")
    if estimated:
        lines.append(f"Masses: {estimated} of {len(frames)} frames are estimated (docs/mass.md).")
    if unlocated:
        lines.append(f"External or internal: worked out for {unlocated} of {len(frames)} frames.")
    if storey.moved_by is not None:
        east, north = (whole_mm(value) for value in storey.moved_by)
        lines.append(f"Place: all was moved {east:,} mm east and {north:,} mm north, to near the origin.")
    lines += [
        f"Gap: the way round is open between {first} and {second}; declared as a gap in site.toml."
        for first, second in gaps
    ]
    return lines
