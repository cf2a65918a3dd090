"""Small walled houses drawn at random: solid walls, doors, gaps, packs and spots over lines and inside."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import strategies as st
from small_house import house_of, round_touches

from packseq.house.model import House, LevelHouse
from packseq.scenario.model import Frame, Location, Opening, Pack, Place, Spot, StandChoices

# A box of 6090 x 5210 whose walls butt at the corners, and two internals short enough to wait inside.
RING = ("S", "E", "N", "W")
LINES = {
    "S": ((0.0, 45.0), (6090.0, 45.0)),
    "E": ((6045.0, 90.0), (6045.0, 5120.0)),
    "N": ((6090.0, 5165.0), (0.0, 5165.0)),
    "W": ((45.0, 5120.0), (45.0, 90.0)),
    "I1": ((2210.0, 400.0), (2210.0, 2190.0)),
    "I2": ((3300.0, 3410.0), (5100.0, 3410.0)),
}
INTERNALS = ("I1", "I2")
# Every centre keeps well clear of every wall, or lies deep in one: pockets at a wall's foot are cut off in
# slightly different shapes by the routes and by the oracle. The last three lie over lines.
OUTSIDE = ((2010.0, -2930.0), (9170.0, 2570.0), (-2870.0, 3010.0), (2530.0, 7590.0))
INSIDE = ((1150.0, 4030.0), (4130.0, 1590.0))
OVER = ((2890.0, -310.0), (6510.0, 2330.0), (2210.0, 1270.0))
PLACES = (*OUTSIDE, *OUTSIDE, *OUTSIDE, *INSIDE, *INSIDE, *OVER)

_SOLID: tuple[Opening, ...] = ()
_DOOR = (Opening("door", 1480, 900, 0, 2040),)
_WIDE = (Opening("opening", 410, 1300, 0, 2450),)
_WINDOW = (Opening("window", 500, 1200, 900, 2040),)
_HALF = (Opening("opening", 0, 700, 0, 10_000),)


def _wall(name: str, openings: tuple[Opening, ...], height_mm: float) -> Frame:
    location: Location = "internal" if name in INTERNALS else "external"
    return Frame(name, 1, *LINES[name], height_mm, 90, location, 60.0, False, openings, 2)


@st.composite
def _packs(draw: st.DrawFn, names: Sequence[str], places: int) -> list[Pack]:
    order = draw(st.permutations(names))
    cut = draw(st.sampled_from([len(order), len(order) // 2, 1]))
    packs = []
    for letter, part in zip("AB", (order[:cut], order[cut:]), strict=True):
        layers: list[tuple[str, ...]] = []
        for name in part:
            if layers and len(layers[-1]) == 1 and draw(st.integers(0, 3)) == 0:
                layers[-1] = (*layers[-1], name)
            else:
                layers.append((name,))
        if layers:
            at = draw(st.lists(st.sampled_from(PLACES), min_size=places, max_size=places, unique=True))
            numbers = tuple(range(1, len(layers) + 1))
            where = tuple(Place(each, draw(st.sampled_from([0.0, 90.0]))) for each in at)
            packs.append(Pack(letter, 1, where, 0, tuple(layers), numbers, 2500, 700))
    return packs


@st.composite
def _spots(draw: st.DrawFn) -> list[Spot]:
    return [
        Spot(
            name="PQ"[number],
            level=1,
            at=draw(st.sampled_from(PLACES)),
            bearing_deg=draw(st.sampled_from([0.0, 90.0])),
            size_mm=draw(st.sampled_from([(1800.0, 600.0), (6100.0, 2700.0), (6100.0, 300.0)])),
            kind=draw(st.sampled_from(["pile", "lean", "lean"])),
            holds=draw(st.integers(1, 4)),
        )
        for number in range(draw(st.integers(1, 2)))
    ]


@st.composite
def walled_houses(
    draw: st.DrawFn, *, places: int = 1, lift_worth_m: st.SearchStrategy[float] | None = None
) -> House:
    """Draw a box with one or two internals; each pack may land at so many places."""
    inner = INTERNALS[: draw(st.integers(1, 2))]
    names = (*RING, *inner)
    outer = st.sampled_from([_SOLID, _SOLID, _DOOR, _WIDE, _WIDE, _WINDOW, _HALF])
    tall = st.sampled_from([2400.0, 2400.0, 2700.0])
    frames = [_wall(name, draw(outer if name in RING else st.just(_SOLID)), draw(tall)) for name in names]
    touching = st.sampled_from([("S",), ("N",), ("S", "W"), ("E",), ("S", "N")])
    touches = round_touches(RING, {name: draw(touching) for name in inner})
    wall = RING[: draw(st.integers(1, 2))]
    stand = StandChoices(
        lap=draw(st.sampled_from(["one-way", "both-ways", "free"])),
        direction=draw(st.sampled_from(["auto", "clockwise", "anticlockwise"])),
        hold_open=draw(st.integers(0, 2)),
        internals_any_time=draw(st.integers(0, 4)) == 0,
        lift_worth_m=0.0 if lift_worth_m is None else draw(lift_worth_m),
    )
    level = LevelHouse(1, RING, wall, closed=True, internals=inner)
    packs, spots = draw(_packs(names, places)), draw(_spots())
    return house_of(frames, packs, (level,), touches, spots=spots, stand=stand)
