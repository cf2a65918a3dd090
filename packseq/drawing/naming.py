"""The labels of a floor plan: frames, packs, spots, the reference wall."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from packseq.drawing.canvas import Bounds, View
from packseq.drawing.frames import Side, along, label_sides
from packseq.drawing.labels import Choice, Label, Line, beside, box_size_mm
from packseq.drawing.shapes import arrow, boxes_along
from packseq.drawing.svg import Pen, line
from packseq.geometry import Point
from packseq.house.model import House
from packseq.plan.model import LapDirection
from packseq.scenario.model import Frame, Place, Scenario, Spot

NAME_MM = 2.9
_NUMBER_MM = 3.6
_SMALL_MM = 2.4
_NEAR_MM = 0.7
_FURTHER_MM = (4.0, 7.0, 11.0, 16.0, 22.0)
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0.0, 1.0)
"""How far along a frame its label may lie."""

_REFERENCE = Pen(0.5)
_REFERENCE_AWAY_MM = 3.0


@dataclass(frozen=True, slots=True)
class Reference:
    """The reference wall's mark: a line along it outdoors, with a head where the direction is known.

    `middle` and `outward` (a unit vector) are on paper; `says` is what to write beside it.
    """

    svg: str
    boxes: tuple[Bounds, ...]
    middle: Point
    outward: Point
    says: str


def reference_arrow(house: House, level: int, direction: LapDirection | None, view: View) -> Reference:
    """Return the mark of a level's reference wall."""
    frames = house.scenario.frames
    names = next(each.reference for each in house.levels if each.level == level)
    side = label_sides(house, level)[names[0]]
    # Outdoors lies right of the way anticlockwise, so this is that way along the wall.
    ahead = (-side.y, side.x)
    ends = [end for name in names for end in (frames[name].start, frames[name].end)]
    ends.sort(key=lambda end: end[0] * ahead[0] + end[1] * ahead[1])
    start, end = view.ring((ends[0], ends[-1]))
    if direction == "clockwise":
        start, end = end, start
    outward = (side.x, -side.y)
    reach = frames[names[0]].thickness_mm / view.one_to / 2 + _REFERENCE_AWAY_MM
    points = tuple((at[0] + outward[0] * reach, at[1] + outward[1] * reach) for at in (start, end))
    drawn = line(points, _REFERENCE) if direction is None else arrow(points, _REFERENCE)
    middle = ((points[0][0] + points[1][0]) / 2, (points[0][1] + points[1][1]) / 2)
    says = "reference wall" if direction is None else f"reference wall first, then {direction}"
    return Reference(drawn, tuple(boxes_along(points, 1.5)), middle, outward, says)


def reference_label(mark: Reference) -> Iterator[Label]:
    """Yield what stands beside the mark of the reference wall."""
    lines = (Line(mark.says, NAME_MM),)
    size = box_size_mm(lines)
    across = (-mark.outward[1], mark.outward[0])
    shifts = (0.0, 8.0, -8.0, 16.0, -16.0, 24.0, -24.0, 32.0, -32.0)
    starts = [(mark.middle[0] + across[0] * shift, mark.middle[1] + across[1] * shift) for shift in shifts]
    yield Label(
        tuple(
            Choice(lines, beside(at, mark.outward, size, gap)) for gap, at in product((1.0, 5.0, 9.0), starts)
        ),
        (("class", "label reference"),),
    )


def heap_labels(
    scenario: Scenario, places: Mapping[str, tuple[Place, ...]], spots: Sequence[Spot], view: View
) -> Iterator[Label]:
    """Yield the names of packs and spots, in their middles where there is room."""
    for name, every in places.items():
        pack = scenario.packs[name]
        for order, place in enumerate(every, 1):
            which = f", place {order} of {len(every)}" if len(every) > 1 else ""
            layers = f"{len(pack.layers)} layer{'s' if len(pack.layers) != 1 else ''}"
            text = (f"pack {name}{which}", layers)
            yield _heap_label(text, view.on(place.at), view.ring(pack.footprint(place)), f"pack {name}")
    for spot in spots:
        text = (f"spot {spot.name}", f"{spot.kind}, holds {spot.holds}")
        yield _heap_label(text, view.on(spot.at), view.ring(spot.footprint), f"spot {spot.name}")


def frame_labels(
    house: House, frames: Sequence[Frame], numbers: Mapping[str, int], view: View
) -> Iterator[Label]:
    """Yield each frame's label: its stand number and name, or its name and length; short frames first."""
    sides = label_sides(house, frames[0].level)
    for frame in sorted(frames, key=lambda each: (each.length_mm, each.name)):
        number = numbers.get(frame.name)
        if number is None:
            upper = (Line(frame.name, NAME_MM, bold=True), Line(f"{frame.length_mm:.0f}", _SMALL_MM))
            in_one = (Line(f"{frame.name} {frame.length_mm:.0f}", _SMALL_MM, bold=True),)
        else:
            upper = (Line(f"{number}", _NUMBER_MM, bold=True), Line(frame.name, _SMALL_MM))
            in_one = (Line(f"{number} {frame.name}", NAME_MM, bold=True),)
        choices = tuple(_choices(frame, sides[frame.name], upper, in_one, view))
        yield Label(choices, (("class", "label"), ("data-frame", frame.name)))


def _choices(
    frame: Frame, side: Side, lines: tuple[Line, ...], in_one: tuple[Line, ...], view: View
) -> Iterator[Choice]:
    """Yield beside the frame in two lines, beside it in one, then further off with a leader."""
    first = (side.x, -side.y)
    sides = (first, (-first[0], -first[1]))
    half = frame.thickness_mm / view.one_to / 2
    spread = [(view.on(along(frame, frame.length_mm * share)), share) for share in _SHARES]
    size, flat = box_size_mm(lines), box_size_mm(in_one)
    for towards, (at, _) in product(sides, spread):
        yield Choice(lines, beside(at, towards, size, half + _NEAR_MM))
    upward = abs(first[0]) > abs(first[1])
    for towards, (at, _) in product(sides, spread):
        turned = (flat[1], flat[0]) if upward else flat
        yield Choice(in_one, beside(at, towards, turned, half + _NEAR_MM), upward=upward)
    for gap, towards, (at, share) in product(_FURTHER_MM, sides, spread):
        aim = view.on(along(frame, frame.length_mm * min(max(share, 0.15), 0.85)))
        yield Choice(lines, beside(at, towards, size, half + gap), leads_to=aim)


def _heap_label(text: tuple[str, str], at: Point, ring: Sequence[Point], heap: str) -> Label:
    lines = (Line(text[0], NAME_MM, bold=True), Line(text[1], _SMALL_MM, class_="count"))
    box = Bounds.around(ring)
    width, height = box_size_mm(lines)
    shifts = (0.0, -0.25, 0.25, -0.4, 0.4)
    within = [
        (at[0] + box.width * right, at[1] + box.height * down) for down, right in product(shifts, shifts)
    ]
    outside = [
        (at[0], box.bottom - height / 2 - _NEAR_MM),
        (at[0], box.top + height / 2 + _NEAR_MM),
        (box.left - width / 2 - _NEAR_MM, at[1]),
        (box.right + width / 2 + _NEAR_MM, at[1]),
    ]
    choices = (
        *(Choice(lines, place) for place in within),
        *(Choice(lines, place, upward=True) for place in within),
        *(Choice(lines, place) for place in outside),
    )
    return Label(choices, (("class", "label"), ("data-heap", heap)))
