"""A plan as written to and read from ``plan.json`` (format 1)."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

Mm = Annotated[float, Field(allow_inf_nan=False)]
Status = Literal["optimal", "best found", "none"]


class Record(BaseModel):
    """Base of everything in a plan file: frozen, unknown fields refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class Where(Record):
    """A pack (with the layer as delivered, unless the frame was put on top of it) or a spot."""

    pack: str | None = None
    layer: int | None = None
    spot: str | None = None


class Move(Record):
    """One lift: a frame is stood, or set aside. Legs are whole mm."""

    n: int
    do: Literal["stand", "set aside"]
    stand: int | None = None
    frame: str
    origin: Annotated[Where, Field(alias="from")]
    to: Where | None = None
    people: int
    empty_mm: int
    loaded_mm: int
    route_mm: tuple[tuple[Mm, Mm], ...] = ()
    touches: tuple[str, ...] | None = None
    why: str | None = None


class StageResult(Record):
    """What one stage of the search found: `bound` is proven, `value` is what the plan costs."""

    name: str
    value: int
    bound: int
    status: Status


class PlannedSpot(Record):
    """A spot as the plan uses it."""

    name: str
    at_mm: tuple[Mm, Mm]
    bearing_deg: Mm
    size_mm: tuple[Mm, Mm]
    kind: Literal["pile", "lean"]
    holds: int
    level: int = 1


class Plan(Record):
    """A stand order with its staging, as in the plan file."""

    format: Literal[1] = 1
    scenario: str
    scenario_sha256: str
    status: Status
    direction: Literal["clockwise", "anticlockwise"] | None
    reference: tuple[str, ...]
    held_open: tuple[str, ...]
    places: dict[str, tuple[Mm, Mm, Mm]]
    stages: tuple[StageResult, ...]
    spots: tuple[PlannedSpot, ...]
    moves: tuple[Move, ...]
