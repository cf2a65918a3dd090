"""The whole answer about a slab: measured, tested, fitted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from packseq.errors import Fault, InputError
from packseq.geometry import Point
from packseq.house.model import House
from packseq.sitework.slab.enough import loose_corners, loose_text, missing_tapes
from packseq.sitework.slab.fit import best_fit
from packseq.sitework.slab.levels import Levels, read_levels
from packseq.sitework.slab.model import Adjusted, Fit, Tapes
from packseq.sitework.slab.network import adjust
from packseq.sitework.slab.tapes import read_tapes
from packseq.sitework.slabedges import AtEdge, corners_at, level_edges, slab_edges
from packseq.sitework.walls import Wall, walls_of


@dataclass(frozen=True, slots=True)
class Base:
    """What the measured slab is laid on the drawing by: the edge at the reference wall.

    Where the reference wall stands at no edge, `fits` is False and the base is the slab's first side.
    """

    corners: tuple[str, str]
    reference: Wall
    at_edges: tuple[AtEdge, ...]
    fits: bool


@dataclass(frozen=True, slots=True)
class Measured:
    """A slab from its tapes.

    `without` is the same without the one tape that is suspect; None where there is none, or several that
    cannot be told apart. `fit` is None where the reference wall stands at no edge of the slab.
    """

    tapes: Tapes
    adjusted: Adjusted
    without: Adjusted | None
    fit: Fit | None


@dataclass(frozen=True, slots=True)
class SlabFiles:
    """The files of measured distances and of level readings; None where there is none."""

    measured: Path | None
    levels: Path | None


def base_of(house: House) -> Base:
    """Return the base of a house's slab."""
    level = house.levels[0]
    reference = next(wall for wall in walls_of(house, level.level) if level.reference[0] in wall.frames)
    at_edges = level_edges(house, level.level)
    own = [each.edge.corners for each in at_edges if each.wall == reference]
    corners = own[0] if own else slab_edges(house.scenario.slab)[0].corners
    return Base(corners, reference, at_edges, bool(own))


def read_slab(house: House, base: Base, files: SlabFiles) -> tuple[Measured | None, Levels | None]:
    """Read what was measured of a slab, both files before any fault is told.

    Raises
    ------
    InputError
        With every fault of both files.
    """
    faults: list[Fault] = []
    measured: Measured | None = None
    levels: Levels | None = None
    if files.measured is not None:
        try:
            measured = _measured(house, base, files.measured)
        except InputError as error:
            faults += error.faults
    if files.levels is not None:
        try:
            levels = read_levels(files.levels, house, house.levels[0].level)
        except InputError as error:
            faults += error.faults
    if faults:
        raise InputError(faults)
    return measured, levels


def _measured(house: House, base: Base, path: Path) -> Measured:
    corners = corners_at(house.scenario.slab)
    tapes = read_tapes(path, corners)
    loose = loose_corners(tapes.readings, corners, base.corners)
    if loose:
        more = missing_tapes(tapes.readings, corners, base.corners)
        raise InputError([Fault(path.name, loose_text(loose, more))])
    adjusted = adjust(tapes.readings, corners, base.corners)
    fit = best_fit(base.at_edges, adjusted.corners, base.reference) if base.fits else None
    return Measured(tapes, adjusted, _without(adjusted, corners, base), fit)


def _without(adjusted: Adjusted, corners: Mapping[str, Point], base: Base) -> Adjusted | None:
    """Return the slab without its one suspect tape, if the others fix it."""
    if len(adjusted.suspects) != 1:
        return None
    others = [each.tape for each in adjusted.tapes if each != adjusted.suspects[0]]
    if loose_corners(others, corners, base.corners):
        return None
    return adjust(others, corners, base.corners)
