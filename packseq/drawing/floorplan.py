"""The floor plan of one level, to scale: what was entered, or what a plan makes of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import chain
from types import MappingProxyType

from packseq.drawing.canvas import Bounds, Drawing, View, fitted
from packseq.drawing.dimensions import dimension
from packseq.drawing.frames import drawn_frame, frame_boxes, frames_of
from packseq.drawing.furniture import Key, box_sample, legend, line_sample, north_mark, scale_bar
from packseq.drawing.ground import (
    GAP,
    NO_GO,
    PACK,
    SLAB,
    SPOT,
    drawn_gaps,
    drawn_no_go,
    drawn_pack,
    drawn_slab,
    drawn_spot,
    ring_boxes,
)
from packseq.drawing.labels import Placed, placed
from packseq.drawing.naming import frame_labels, heap_labels, reference_arrow, reference_label
from packseq.drawing.shapes import hatching
from packseq.drawing.svg import Pen, area, line, words
from packseq.geometry import Point
from packseq.house.model import House
from packseq.plan.model import LapDirection, Plan
from packseq.scenario.model import Place, Spot

PAPER_MM = (180.0, 225.0)
"""What fits on an upright A4 sheet with its margins and a heading."""

_HEAD_MM = 13.0
_EDGE_MM = 1.0
_DIMENSIONS_MM = 7.0
_BEYOND_MM = 3.0
_SCALE_BAR_MM = 8.0
_NARROWEST_MM = 120.0
_MARGIN_PART = 0.05


@dataclass(frozen=True)
class Shown:
    """What the floor plan of one level shows.

    Parameters
    ----------
    house
        The house.
    level
        The level shown.
    places
        For each pack of the level the places where it may lie; one, once that is planned.
    spots
        The spots of the level.
    numbers
        Stand numbers by frame; without them frames are labelled with their lengths.
    direction
        The direction of the lap, where it is known.
    """

    house: House
    level: int
    places: Mapping[str, tuple[Place, ...]]
    spots: tuple[Spot, ...]
    numbers: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    direction: LapDirection | None = None


def shown_as_entered(house: House, level: int) -> Shown:
    """Return what was entered for one level."""
    scenario = house.scenario
    places = {pack.name: pack.places for pack in scenario.packs.values() if pack.level == level}
    spots = tuple(spot for spot in scenario.spots.values() if spot.level == level)
    choice = scenario.stand.direction
    return Shown(house, level, places, spots, direction=None if choice == "auto" else choice)


def shown_as_planned(house: House, plan: Plan, level: int) -> Shown:
    """Return what a plan makes of one level: stand numbers, places and spots, direction."""
    places = {
        name: (Place((x, y), bearing),)
        for name, (x, y, bearing) in plan.places.items()
        if house.scenario.packs[name].level == level
    }
    spots = tuple(record.spot() for record in plan.spots if record.level == level)
    numbers = {name: number for number, name in enumerate(plan.stood_before, 1)}
    numbers |= {move.frame: move.stand for move in plan.moves if move.stand is not None}
    return Shown(house, level, places, spots, numbers, plan.direction)


def drawn_ground(shown: Shown) -> Bounds:
    """Return the stretch of ground that a floor plan shows, with a little more on every side."""
    scenario = shown.house.scenario
    rings = chain(
        (scenario.slab,),
        (frame.footprint for frame in frames_of(shown.house, shown.level)),
        (scenario.packs[name].footprint(place) for name, places in shown.places.items() for place in places),
        (spot.footprint for spot in shown.spots),
        scenario.no_go,
    )
    tight = Bounds.around(chain.from_iterable(rings))
    return Bounds.around(tight.corners, _MARGIN_PART * max(tight.width, tight.height))


def plan_view(shown: Shown, paper_mm: tuple[float, float] = PAPER_MM) -> View:
    """Return how the ground of a floor plan becomes paper: at the largest round scale that fits."""
    ground = drawn_ground(shown)
    edge_mm = _EDGE_MM if shown.numbers else _DIMENSIONS_MM
    foot_mm = edge_mm + _SCALE_BAR_MM + legend(_keys(shown), (0.0, 0.0), paper_mm[0])[1]
    return fitted(
        ground,
        paper_mm[0] - edge_mm - _EDGE_MM,
        paper_mm[1] - _HEAD_MM - foot_mm,
        (edge_mm, _HEAD_MM),
    )


def plan_drawing(
    house: House, level: int, plan: Plan | None = None, *, paper_mm: tuple[float, float] = PAPER_MM
) -> Drawing:
    """Draw the floor plan of one level.

    Parameters
    ----------
    house
        The house.
    level
        The level to draw.
    plan
        A plan whose stand numbers, places and spots to show. Without one it is drawn as
        entered: frames with their lengths, packs at every place they may lie.
    paper_mm
        Width and height of paper to fit on.
    """
    shown = shown_as_entered(house, level) if plan is None else shown_as_planned(house, plan, level)
    view = plan_view(shown, paper_mm)
    width_mm = max(view.paper.right + _EDGE_MM, _NARROWEST_MM)
    foot_mm = view.paper.top + (_EDGE_MM if shown.numbers else _DIMENSIONS_MM)
    keys, keys_mm = legend(_keys(shown), (_EDGE_MM, foot_mm + _SCALE_BAR_MM), width_mm - 2 * _EDGE_MM)
    title = _title(shown)
    parts = (
        words(title, (_EDGE_MM, 4.0), 4.2, anchor="start", bold=True),
        words(_subtitle(shown), (_EDGE_MM, 9.2), 2.9, anchor="start"),
        north_mark((width_mm - 5, _HEAD_MM)),
        *plan_parts(shown, view),
        *_overall_dimensions(shown, view),
        scale_bar(view, (2 * _EDGE_MM, foot_mm + 5)),
        keys,
    )
    return Drawing(width_mm, foot_mm + _SCALE_BAR_MM + keys_mm + _EDGE_MM, title, parts)


def plan_parts(shown: Shown, view: View) -> tuple[str, ...]:
    """Return the elements of a floor plan without what stands round it, from the back to the front."""
    house, scenario = shown.house, shown.house.scenario
    frames = frames_of(house, shown.level)
    packs = [(scenario.packs[name], place) for name, places in shown.places.items() for place in places]
    return (
        drawn_slab(scenario.slab, view),
        *(drawn_no_go(ring, view) for ring in scenario.no_go),
        *(drawn_spot(spot, view) for spot in shown.spots),
        *(drawn_pack(pack, place, view) for pack, place in packs),
        *drawn_gaps(house, shown.level, view),
        *(drawn_frame(frame, view) for frame in frames),
        reference_arrow(house, shown.level, shown.direction, view).svg,
        *(label.svg() for label in plan_labels(shown, view)),
    )


def plan_labels(shown: Shown, view: View) -> tuple[Placed, ...]:
    """Return the labels of a floor plan, each where it hides least."""
    house, scenario = shown.house, shown.house.scenario
    frames = frames_of(house, shown.level)
    outlines = [
        *(scenario.packs[name].footprint(place) for name, places in shown.places.items() for place in places),
        *(spot.footprint for spot in shown.spots),
        *scenario.no_go,
    ]
    mark = reference_arrow(house, shown.level, shown.direction, view)
    boxes = [
        *chain.from_iterable(frame_boxes(frame, view) for frame in frames),
        *chain.from_iterable(ring_boxes(ring, view) for ring in outlines),
        *mark.boxes,
    ]
    labels = (
        *heap_labels(scenario, shown.places, shown.spots, view),
        *reference_label(mark),
        *frame_labels(house, frames, shown.numbers, view),
    )
    return placed(labels, boxes, view.paper)


def _overall_dimensions(shown: Shown, view: View) -> Iterator[str]:
    """Yield what the house of a level measures over its outside faces, to hold against the plan."""
    if shown.numbers:
        return
    footprints = (frame.footprint for frame in frames_of(shown.house, shown.level))
    bottom_left, bottom_right, _, top_left = Bounds.around(chain.from_iterable(footprints)).corners
    corner = view.on(bottom_left)
    yield dimension(view, bottom_left, bottom_right, view.paper.top - corner[1] + _BEYOND_MM)
    yield dimension(view, top_left, bottom_left, corner[0] - view.paper.left + _BEYOND_MM)


def _title(shown: Shown) -> str:
    name = shown.house.scenario.name
    return f"{name}, level {shown.level}" if len(shown.house.levels) > 1 else name


def _subtitle(shown: Shown) -> str:
    if shown.numbers:
        return "Bold number: when the frame is stood. Then the frame's name."
    return "As entered: each frame's name and length in mm."


def _keys(shown: Shown) -> tuple[Key, ...]:
    scenario = shown.house.scenario
    openings = [opening for frame in frames_of(shown.house, shown.level) for opening in frame.openings]
    keys = [Key(box_sample(Pen(0.2), "#000"), "frame"), Key(line_sample(SLAB), "edge of the slab")]
    if any(opening.sill_mm == 0 for opening in openings):
        keys.append(Key(box_sample(Pen(0.2), "#fff"), "opening without a sill"))
    if any(opening.sill_mm > 0 for opening in openings):
        keys.append(Key(_window_sample, "opening with a sill"))
    if shown.places:
        keys.append(Key(box_sample(PACK), "pack"))
    if shown.spots:
        keys.append(Key(box_sample(SPOT), "spot for set-aside frames"))
    if scenario.no_go:
        keys.append(Key(_no_go_sample, "no-go area"))
    if any(scenario.frames[pair[0]].level == shown.level for pair in scenario.gaps):
        keys.append(Key(line_sample(GAP), "declared gap"))
    return tuple(keys)


def _window_sample(at: Point) -> str:
    sides = (line(((at[0] - 4, at[1] + up), (at[0] + 4, at[1] + up)), Pen(0.15)) for up in (-0.8, 0.0, 0.8))
    return "".join(sides)


def _no_go_sample(at: Point) -> str:
    ring = (
        (at[0] - 4, at[1] - 1.5),
        (at[0] + 4, at[1] - 1.5),
        (at[0] + 4, at[1] + 1.5),
        (at[0] - 4, at[1] + 1.5),
    )
    return area(ring, NO_GO) + hatching(ring, 1.2, Pen(0.15))
