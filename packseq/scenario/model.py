"""What was delivered, what is to stand and what the site allows, as frozen values."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import Literal

from packseq.geometry import Point, Ring, bearing_deg, middle, rectangle, strip
from packseq.scenario.loadlimits import Deck, LoadLimits
from packseq.scenario.rates import TimeRates

Location = Literal["external", "internal"]
Lap = Literal["one-way", "both-ways", "free"]
Direction = Literal["auto", "clockwise", "anticlockwise"]
SpotKind = Literal["pile", "lean"]
OpeningKind = Literal["door", "window", "opening"]


@dataclass(frozen=True, slots=True)
class Opening:
    """A hole in a frame: `from_mm` runs from end 1 of the frame to the near side."""

    kind: OpeningKind
    from_mm: float
    width_mm: float
    sill_mm: float
    head_mm: float


@dataclass(frozen=True)
class Frame:
    """One prefabricated wall panel on its line.

    `start` and `end` are the ends of the bottom plate's centre line in mm;
    `location` is None where the file leaves it to be derived; `row` is the
    frame's row in `file`, as faults call it.
    """

    name: str
    level: int
    start: Point
    end: Point
    height_mm: float
    thickness_mm: float
    location: Location | None
    mass_kg: float
    mass_is_estimate: bool
    openings: tuple[Opening, ...]
    row: int
    file: str = "frames.csv"

    @cached_property
    def length_mm(self) -> float:
        """Length of the bottom plate in mm."""
        return math.dist(self.start, self.end)

    @cached_property
    def middle(self) -> Point:
        """Middle of the centre line: where a carried frame is put down to be stood."""
        return middle(self.start, self.end)

    @cached_property
    def bearing_deg(self) -> float:
        """Direction from end 1 to end 2, degrees anticlockwise from x."""
        return bearing_deg(self.start, self.end)

    @cached_property
    def footprint(self) -> Ring:
        """Corners of the bottom plate's rectangle."""
        return strip(self.start, self.end, self.thickness_mm)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a pack may land: its centre in mm and the direction of its long side."""

    at: Point
    bearing_deg: float


@dataclass(frozen=True, slots=True)
class Landing:
    """Where a pack may be landed: a ``[[pack]]`` of site.toml, whether or not any frame came in it.

    `most_kg` is the most that can be landed there, None where ``[load]`` speaks for it.
    """

    name: str
    level: int
    places: tuple[Place, ...]
    holds: int = 0
    most_kg: float | None = None


@dataclass(frozen=True)
class Pack:
    """Frames strapped flat; ``layers[0]`` is the top, delivered layer 1.

    `places` holds one place, or several for the plan to choose from. `holds` is the most
    layers the pack may have for frames to be set aside on top of it; 0 means never.
    `layer_numbers` are the numbers written in packs.csv, one for each layer.
    """

    name: str
    level: int
    places: tuple[Place, ...]
    holds: int
    layers: tuple[tuple[str, ...], ...]
    layer_numbers: tuple[int, ...]
    length_mm: float
    width_mm: float

    def footprint(self, place: Place) -> Ring:
        """Return the ground the pack covers: its longest frame long, its tallest frame wide."""
        return rectangle(place.at, place.bearing_deg, self.length_mm, self.width_mm)

    @cached_property
    def frames(self) -> tuple[str, ...]:
        """Every frame of the pack, top layer first."""
        return tuple(frame for layer in self.layers for frame in layer)


@dataclass(frozen=True)
class Spot:
    """A place where set-aside frames wait.

    `size_mm` is (length, width). A pile is last on, first off; from a lean any frame can be taken.
    `against` names the standing frames that a lean rests on: nothing leans there before they stand.
    `why` tells of a spot that a plan proposed why it is there; None where that was not asked yet, and of
    the scenario's own.
    """

    name: str
    level: int
    at: Point
    bearing_deg: float
    size_mm: tuple[float, float]
    kind: SpotKind
    holds: int
    against: tuple[str, ...] = ()
    why: str | None = None

    @cached_property
    def footprint(self) -> Ring:
        """Corners of the ground the spot covers."""
        return rectangle(self.at, self.bearing_deg, *self.size_mm)

    def takes(self, frame: Frame) -> bool:
        """Tell whether a frame fits: no longer than the spot and, in a pile, no taller than its width."""
        if frame.level != self.level or frame.length_mm > self.size_mm[0]:
            return False
        return self.kind == "lean" or frame.height_mm <= self.size_mm[1]


@dataclass(frozen=True, slots=True)
class StandChoices:
    """The ``[stand]`` table: how the supervisor wants the building lapped.

    `reference` is None for the automatic choice, else the frame names given.
    """

    reference: tuple[str, ...] | None = None
    lap: Lap = "one-way"
    direction: Direction = "auto"
    hold_open: int = 1
    internals_any_time: bool = False
    lift_worth_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Crew:
    """People on site and the most kilograms that one of a lifting team takes."""

    people: int
    share_kg: float = 25.0

    def team(self, mass_kg: float) -> int:
        """Return how many people a frame needs: max(2, ceil(mass / share))."""
        return max(2, math.ceil(mass_kg / self.share_kg - 1e-9))


@dataclass(frozen=True)
class Scenario:
    """A whole job as read from its folder. Mappings keep the order of the files."""

    name: str
    slab: Ring
    frames: Mapping[str, Frame]
    packs: Mapping[str, Pack]
    crew: Crew
    spots: Mapping[str, Spot] = field(default_factory=lambda: MappingProxyType({}))
    gaps: tuple[tuple[str, str], ...] = ()
    no_go: tuple[Ring, ...] = ()
    stand: StandChoices = StandChoices()
    rates: TimeRates = field(default_factory=TimeRates)
    join_gap_mm: float = 30.0
    clearance_mm: float = 50.0
    sha256: str = ""
    landings: Mapping[str, Landing] = field(default_factory=lambda: MappingProxyType({}))
    load: LoadLimits = field(default_factory=LoadLimits)
    decks: tuple[Deck, ...] = ()

    @cached_property
    def pack_of(self) -> Mapping[str, str]:
        """Name of the pack that each frame came in."""
        return {frame: pack.name for pack in self.packs.values() for frame in pack.frames}

    @cached_property
    def layer_of(self) -> Mapping[str, int]:
        """Position of each frame's layer in its pack, 0 on top."""
        return {
            frame: depth
            for pack in self.packs.values()
            for depth, layer in enumerate(pack.layers)
            for frame in layer
        }

    @cached_property
    def levels(self) -> tuple[int, ...]:
        """The levels that have frames, lowest first."""
        return tuple(sorted({frame.level for frame in self.frames.values()}))
