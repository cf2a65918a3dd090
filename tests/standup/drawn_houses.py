"""Small houses drawn at random for the oracle: a ring of frames, a few internals, packs and spots."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import strategies as st
from small_house import frame, house_of

from packseq.house.model import House, LevelHouse
from packseq.scenario.model import Frame, Pack, Place, Spot, StandChoices

# The corners of a lopsided hut: no two legs between them are equally long.
CORNERS = ((0.0, 0.0), (6000.0, 0.0), (6100.0, 4000.0), (2000.0, 6000.0), (0.0, 3000.0))
# Packs and spots lie clear of every line.
PACK_PLACES = ((-3500.0, -3000.0), (2000.0, -3500.0), (10000.0, 2500.0), (2500.0, 8000.0))
SPOT_PLACES = ((-5000.0, 7000.0), (11000.0, 1500.0), (8000.0, -6000.0), (-5500.0, 1500.0))
ANY_LIFT_WORTH_M = st.sampled_from([0.5, 1.5, 4.0, 20.0])


@st.composite
def _level(draw: st.DrawFn, number: int, most: int) -> tuple[LevelHouse, list[Frame], dict[str, set[str]]]:
    size = draw(st.integers(3, min(5, most - 1)))
    ring = [f"E{number}{place}" for place in range(size)]
    inner = [f"I{number}{place}" for place in range(draw(st.integers(0, min(2, most - size))))]
    tall = st.sampled_from([2400, 2400, 2400, 2700])
    frames = [
        frame(name, (CORNERS[place], CORNERS[(place + 1) % size]), level=number, height_mm=draw(tall))
        for place, name in enumerate(ring)
    ]
    touches = {name: {ring[place - 1], ring[(place + 1) % size]} for place, name in enumerate(ring)}
    for name in inner:
        west = draw(st.sampled_from([1000.0, 2200.0, 3700.0]))
        frames.append(frame(name, ((west, 500.0), (west + 300.0, 3000.0)), level=number))
        others = draw(st.sets(st.sampled_from(list(touches)), min_size=1, max_size=2))
        touches[name] = others
        for other in others:
            touches[other].add(name)
    wall = tuple(ring[: draw(st.integers(1, 2))])
    return LevelHouse(number, tuple(ring), wall, closed=True, internals=tuple(inner)), frames, touches


@st.composite
def _packs(draw: st.DrawFn, names: Sequence[str], level: int, *, tops: bool) -> list[Pack]:
    order = draw(st.permutations(names))
    cut = draw(st.sampled_from([len(order), len(order) // 2]))
    packs = []
    for letter, part in zip("AB", (order[:cut], order[cut:]), strict=True):
        layers: list[tuple[str, ...]] = []
        for name in part:
            if layers and len(layers[-1]) == 1 and draw(st.integers(0, 3)) == 0:
                layers[-1] = (*layers[-1], name)
            else:
                layers.append((name,))
        place = Place(draw(st.sampled_from(PACK_PLACES)), 0.0)
        numbers = tuple(range(1, len(layers) + 1))
        holds = draw(st.integers(0, 3)) if tops else 0
        if layers:
            packs.append(Pack(f"{letter}{level}", level, (place,), holds, tuple(layers), numbers, 6000, 2700))
    return packs


@st.composite
def _spots(draw: st.DrawFn, level: int) -> list[Spot]:
    return [
        Spot(
            name=f"{'PQ'[number]}{level}",
            level=level,
            at=draw(st.sampled_from(SPOT_PLACES)),
            bearing_deg=0.0,
            size_mm=(
                draw(st.sampled_from([5200.0, 8000.0, 8000.0])),
                draw(st.sampled_from([2400.0, 2700.0])),
            ),
            kind=draw(st.sampled_from(["pile", "lean"])),
            holds=draw(st.integers(1, 4)),
        )
        for number in range(draw(st.integers(1, 2)))
    ]


@st.composite
def houses(
    draw: st.DrawFn,
    *,
    most: int = 6,
    tops: bool = False,
    lift_worth_m: st.SearchStrategy[float] | None = None,
) -> House:
    """Draw a house of at most `most` frames on one level, or of about as many on two."""
    sizes = draw(st.sampled_from([(most,), (most,), (most,), (4, 3)]))
    levels, frames, packs, spots = [], [], [], []
    touches: dict[str, tuple[str, ...]] = {}
    for number, size in enumerate(sizes, 1):
        level, own, near = draw(_level(number, max(4, size)))
        levels.append(level)
        frames += own
        packs += draw(_packs([each.name for each in own], number, tops=tops))
        spots += draw(_spots(number))
        touches |= {name: tuple(sorted(others)) for name, others in near.items()}
    choices = StandChoices(
        lap=draw(st.sampled_from(["one-way", "both-ways", "free"])),
        direction=draw(st.sampled_from(["auto", "auto", "clockwise", "anticlockwise"])),
        hold_open=draw(st.integers(0, 2)),
        internals_any_time=draw(st.integers(0, 4)) == 0,
        lift_worth_m=0.0 if lift_worth_m is None else draw(lift_worth_m),
    )
    return house_of(frames, packs, levels, touches, spots=spots, stand=choices)
