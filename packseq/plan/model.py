"""A plan as written to and read from ``plan.json`` (format 1)."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from packseq.plan.begin import Begin
from packseq.plan.record import Mm, Name, Record, Whole, Words
from packseq.scenario.model import Spot, SpotKind

Status = Literal["optimal", "best found", "none"]
LapDirection = Literal["clockwise", "anticlockwise"]


class Where(Record):
    """A pack (with the layer as delivered, unless the frame was put on top of it) or a spot."""

    pack: Name | None = None
    layer: Whole | None = None
    spot: Name | None = None

    def __str__(self) -> str:
        if self.spot is not None:
            return f"spot {self.spot}"
        if self.pack is None:
            return "nowhere"
        return f"pack {self.pack}" if self.layer is None else f"pack {self.pack} layer {self.layer}"


class Move(Record):
    """One lift: a frame is stood, or set aside. Legs are whole mm."""

    n: Whole
    do: Literal["stand", "set aside"]
    stand: Whole | None = None
    frame: Name
    origin: Annotated[Where, Field(alias="from")]
    to: Where | None = None
    people: Whole
    empty_mm: Whole
    loaded_mm: Whole
    route_mm: tuple[tuple[Mm, Mm], ...] = ()
    touches: tuple[Name, ...] | None = None
    why: Words | None = None


class StageResult(Record):
    """What one stage of the search found: `bound` is proven, `value` is what the plan costs."""

    name: Words
    value: Whole
    bound: Whole
    status: Status


class PlannedSpot(Record):
    """A spot as the plan uses it.

    `against` names the standing frames that a lean rests on; `why` says why a spot that the plan proposes
    is where it is.
    """

    name: Name
    at_mm: tuple[Mm, Mm]
    bearing_deg: Mm
    size_mm: tuple[Mm, Mm]
    kind: SpotKind
    holds: Whole
    level: Whole = 1
    against: tuple[Name, ...] = ()
    why: Words | None = None

    @classmethod
    def of(cls, spot: Spot) -> PlannedSpot:
        """Return the record of a spot."""
        return cls(
            name=spot.name,
            at_mm=spot.at,
            bearing_deg=spot.bearing_deg,
            size_mm=spot.size_mm,
            kind=spot.kind,
            holds=spot.holds,
            level=spot.level,
            against=spot.against,
            why=spot.why,
        )

    def spot(self) -> Spot:
        """Return the spot that this record describes."""
        return Spot(
            name=self.name,
            level=self.level,
            at=self.at_mm,
            bearing_deg=self.bearing_deg,
            size_mm=self.size_mm,
            kind=self.kind,
            holds=self.holds,
            against=self.against,
            why=self.why,
        )


class Plan(Record):
    """A stand order with its staging, as in the plan file.

    `begins` is given where the plan was made in the middle of the job; without it everything lies as
    delivered before the first move.
    """

    format: Annotated[int, Field(ge=1, le=1)] = 1
    scenario: Words
    scenario_sha256: Words
    status: Status
    direction: LapDirection | None
    reference: tuple[Name, ...]
    held_open: tuple[Name, ...]
    places: dict[Name, tuple[Mm, Mm, Mm]]
    stages: tuple[StageResult, ...]
    spots: tuple[PlannedSpot, ...]
    moves: tuple[Move, ...]
    begins: Begin | None = None

    @property
    def stood_before(self) -> tuple[str, ...]:
        """The frames that stand before the first move."""
        return () if self.begins is None else self.begins.stood

    @property
    def left_out(self) -> tuple[str, ...]:
        """The frames that the plan does not stand."""
        return () if self.begins is None else self.begins.left_out
