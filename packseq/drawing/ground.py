"""The slab and what lies on and round it: packs, spots, no-go areas, declared gaps."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

from packseq.drawing.canvas import Bounds, View
from packseq.drawing.shapes import boxes_along, hatching
from packseq.drawing.svg import Pen, area, group, line
from packseq.geometry import Ring
from packseq.house.model import House
from packseq.scenario.model import Pack, Place, Spot

SLAB = Pen(0.25, colour="#777")
PACK = Pen(0.5)
SPOT = Pen(0.35, "2 1.2")
NO_GO = Pen(0.25)
GAP = Pen(0.3, "0.6 0.9")
_HATCH = Pen(0.12, colour="#555")
_HATCH_APART_MM = 2.0


def drawn_slab(slab: Ring, view: View) -> str:
    """Return the edge of the slab."""
    return area(view.ring(slab), SLAB, class_="slab")


def drawn_pack(pack: Pack, place: Place, view: View) -> str:
    """Return the ground that a pack covers; the group has class ``heap`` and ``data-heap``."""
    ring = area(view.ring(pack.footprint(place)), PACK, "#fff")
    return group((ring,), class_="heap pack", data_heap=f"pack {pack.name}")


def drawn_spot(spot: Spot, view: View) -> str:
    """Return the ground that a spot covers; the group has class ``heap`` and ``data-heap``."""
    ring = area(view.ring(spot.footprint), SPOT)
    return group((ring,), class_="heap spot", data_heap=f"spot {spot.name}")


def drawn_no_go(ring: Ring, view: View) -> str:
    """Return a no-go area, hatched."""
    on_paper = view.ring(ring)
    return group((area(on_paper, NO_GO), hatching(on_paper, _HATCH_APART_MM, _HATCH)), class_="no-go")


def drawn_gaps(house: House, level: int, view: View) -> Iterator[str]:
    """Yield each declared gap of a level: a dotted line between the nearest ends of its two frames."""
    frames = house.scenario.frames
    for one, other in house.scenario.gaps:
        if frames[one].level == level:
            ends = (
                (start, end)
                for start in (frames[one].start, frames[one].end)
                for end in (frames[other].start, frames[other].end)
            )
            yield line(view.ring(min(ends, key=lambda pair: dist(*pair))), GAP, class_="gap")


def ring_boxes(ring: Ring, view: View) -> tuple[Bounds, ...]:
    """Return boxes on paper that cover an outline, for labels to keep clear of."""
    on_paper = view.ring(ring)
    return tuple(boxes_along((*on_paper, on_paper[0])))
