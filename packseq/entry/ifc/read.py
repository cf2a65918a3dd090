"""The walls of one storey of a model, each taken or refused with a reason."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import ifcopenshell
import numpy as np
from ifcopenshell import entity_instance

from packseq.entry.ifc.corners import butted
from packseq.entry.ifc.joins import compared, told_joins
from packseq.entry.ifc.measured import Scale
from packseq.entry.ifc.modelfile import open_model, scale_of
from packseq.entry.ifc.pieces import split, standing_against
from packseq.entry.ifc.solids import ShapeError
from packseq.entry.ifc.storeys import walls_of_storey
from packseq.entry.ifc.walls import ModelWall, read_wall
from packseq.errors import Fault, InputError, PackseqError
from packseq.scenario import limits
from packseq.scenario.names import name_fault, name_key

_JOIN_GAP_MM = 30.0
_FAR_MM = 100_000.0
_FOOT_MM = 300.0
_MOST_TOGETHER_MM = 3_000_000.0
"""No storey of a house has more wall; it keeps the time bounded."""


@dataclass(frozen=True, slots=True)
class Account:
    """What became of one wall of the model: the frames it was taken as, or why it was refused."""

    global_id: str
    called: str
    kind: str
    frames: tuple[str, ...]
    refused: str | None
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ModelStorey:
    """One storey of a model as frames by name, with an account of every wall.

    `joins` says where the joins that the model tells and those that geometry shows differ.
    """

    project: str
    storey: str | None
    frames: Mapping[str, ModelWall]
    accounts: tuple[Account, ...]
    joins: tuple[str, ...]
    moved_by: tuple[float, float] | None


def read_storey(path: Path, storey: str | None, most_mm: float) -> ModelStorey:
    """Read the walls of a storey of an IFC model as frames at most so long.

    Raises
    ------
    InputError
        When the file is no model that can be read, or the storey is not there.
    """
    model = open_model(path)
    try:
        return _storey(model, path, storey, most_mm)
    except PackseqError:
        raise
    except Exception as error:
        # Whatever a damaged model holds in place of what the schema says; a wall's own damage
        # is told at the wall.
        text = f"is damaged: what holds its walls together cannot be read ({type(error).__name__})"
        raise InputError([Fault(path.name, text)]) from error


def _storey(model: ifcopenshell.file, path: Path, storey: str | None, most_mm: float) -> ModelStorey:
    scale = scale_of(model, path)
    elements, name = walls_of_storey(model, path.name, storey)
    walls, refused = _taken(elements, scale)
    _refuse_too_many(walls, most_mm, path.name)
    squared = butted(walls)
    refused |= squared.dropped
    pieces = _in_pieces(squared.walls, most_mm)
    named = _named(pieces)
    called = {element.id(): _called(element.Name, element.is_a()) for element in elements}
    frames = {frame: own for names in named.values() for frame, own in names.items()}
    shift = _shift(tuple(frames.values()))
    project = model.by_type("IfcProject")[0]
    return ModelStorey(
        project=_called(project.LongName or project.Name, "model"),
        storey=name,
        frames=frames if shift is None else {frame: _moved(own, shift) for frame, own in frames.items()},
        accounts=tuple(
            Account(
                global_id=str(element.GlobalId),
                called=called[element.id()],
                kind=element.is_a(),
                frames=tuple(named.get(element.id(), ())),
                refused=refused.get(element.id()),
                notes=_notes(element.id(), squared.walls, squared.notes),
            )
            for element in elements
        ),
        joins=compared(told_joins(model), pieces, called, _JOIN_GAP_MM),
        moved_by=shift,
    )


def _taken(elements: Sequence[entity_instance], scale: Scale) -> tuple[tuple[ModelWall, ...], dict[int, str]]:
    """Return the walls that are straight frames, and why each other one is not."""
    walls: list[ModelWall] = []
    refused: dict[int, str] = {}
    for element in elements:
        try:
            with np.errstate(all="raise", under="ignore"):
                walls.append(read_wall(element, scale))
        except ShapeError as error:
            refused[element.id()] = str(error)
        except Exception as error:  # noqa: BLE001 - whatever a damaged model holds
            refused[element.id()] = f"its data in the model are damaged ({type(error).__name__})"
    return tuple(walls), refused


def _refuse_too_many(walls: Sequence[ModelWall], most_mm: float, file: str) -> None:
    """Refuse more wall than a storey of a house has, before time goes into cutting it."""
    together_mm = math.fsum(wall.length_mm for wall in walls)
    if together_mm > _MOST_TOGETHER_MM:
        text = f"has {together_mm / 1000:,.0f} m of wall; at most {_MOST_TOGETHER_MM / 1000:,.0f} m are read"
        raise InputError([Fault(file, text)])
    fewest = sum(1 if wall.framed else math.ceil(wall.length_mm / most_mm) for wall in walls)
    if fewest > limits.MOST_FRAMES:
        text = f"comes to {fewest} frames at least; at most {limits.MOST_FRAMES} are planned"
        raise InputError([Fault(file, text)])


def _called(name: str | None, otherwise: str) -> str:
    return " ".join((name or "").split()) or otherwise


def _notes(key: int, walls: Sequence[ModelWall], others: Mapping[int, Sequence[str]]) -> tuple[str, ...]:
    own = next((wall for wall in walls if wall.key == key), None)
    lowest_mm = min((wall.foot_mm for wall in walls), default=0.0)
    notes = () if own is None else own.notes
    if own is not None and own.foot_mm - lowest_mm > _FOOT_MM:
        notes = (*notes, f"its foot is {own.foot_mm - lowest_mm:.0f} mm above the lowest wall's")
    return (*notes, *others.get(key, ()))


def _in_pieces(walls: Sequence[ModelWall], most_mm: float) -> dict[int, list[ModelWall]]:
    """Return the frames that each wall becomes, by the wall's number in the model."""
    pieces: dict[int, list[ModelWall]] = {}
    for wall in walls:
        others = [other for other in walls if other is not wall]
        against = standing_against(wall, others, _JOIN_GAP_MM)
        pieces.setdefault(wall.key, []).extend(split(wall, against, most_mm))
    return pieces


def _named(pieces: Mapping[int, Sequence[ModelWall]]) -> dict[int, dict[str, ModelWall]]:
    """Return the frames of each wall by name: panels by their own, others W1, or W2.1 and W2.2."""
    taken: set[str] = set()
    named: dict[int, dict[str, ModelWall]] = {}
    number = 0
    for key, walls in pieces.items():
        own = walls[0].called
        if walls[0].framed and name_fault(own) is None and name_key(own) not in taken:
            names = [own]
        else:
            number += 1
            while name_key(f"W{number}") in taken:
                number += 1
            names = [f"W{number}"]
        if len(walls) > 1:
            names = [f"{names[0]}.{place}" for place in range(1, len(walls) + 1)]
        taken |= {name_key(name) for name in names}
        named[key] = dict(zip(names, walls, strict=True))
    return named


def _shift(walls: Sequence[ModelWall]) -> tuple[float, float] | None:
    """Return how far to move walls that lie far from the origin, as on a map; None for near ones."""
    points = [point for wall in walls for point in (wall.start, wall.end)]
    if all(max(abs(x), abs(y)) <= _FAR_MM for x, y in points):
        return None
    return (-min(x for x, _ in points), -min(y for _, y in points))


def _moved(wall: ModelWall, shift: tuple[float, float]) -> ModelWall:
    start, end = ((round(x + shift[0], 1), round(y + shift[1], 1)) for x, y in (wall.start, wall.end))
    return replace(wall, start=start, end=end)
