"""Small tight sites drawn at random: three packs that take frames on top, next to no spots."""

from __future__ import annotations

import math
import random

from hypothesis import strategies as st
from small_house import frame, house_of, round_touches

from packseq.house.model import House, LevelHouse
from packseq.scenario.model import Pack, Place, Spot, SpotKind, StandChoices

PACK_PLACES = ((-4000.0, -9000.0), (0.0, -9500.0), (5000.0, -9000.0))


@st.composite
def _packs(draw: st.DrawFn, names: list[str]) -> list[Pack]:
    # Shuffled by dice: drawn permutations keep close to the order given, where little need be moved.
    order = random.Random(draw(st.integers(0, 10**6))).sample(names, len(names))
    cuts = sorted(draw(st.lists(st.integers(1, len(order) - 1), min_size=1, max_size=2, unique=True)))
    parts = [order[start:end] for start, end in zip([0, *cuts], [*cuts, len(order)], strict=True)]
    packs = []
    for letter, part, at in zip("ABC", parts, PACK_PLACES, strict=False):
        layers: list[tuple[str, ...]] = []
        for name in part:
            if layers and len(layers[-1]) == 1 and draw(st.integers(0, 4)) == 0:
                layers[-1] = (*layers[-1], name)
            else:
                layers.append((name,))
        numbers = tuple(range(1, len(layers) + 1))
        holds = draw(st.sampled_from([0, 1, 2, 3, 3, 4, 4]))
        packs.append(Pack(letter, 1, (Place(at, 0.0),), holds, tuple(layers), numbers, 8000, 2700))
    return packs


@st.composite
def tight_houses(draw: st.DrawFn, *, most: int = 7, spots: int = 0) -> House:
    """Draw a ring of frames, with internal frames or without, in packs with next to no room beside them."""
    size = draw(st.integers(most - 1, most))
    inside = draw(st.integers(0, min(2, size - 3)))
    ring = [f"E{place}" for place in range(size - inside)]
    inner = [f"I{place}" for place in range(inside)]
    turn = 2 * math.pi / len(ring)
    corners = [(6000 * math.cos(turn * place), 6000 * math.sin(turn * place)) for place in range(len(ring))]
    frames = [
        frame(name, (corners[place], corners[(place + 1) % len(ring)])) for place, name in enumerate(ring)
    ]
    frames += [frame(name, ((900.0 * at, -500.0), (900.0 * at, 500.0))) for at, name in enumerate(inner)]
    touching = {name: tuple(draw(st.sets(st.sampled_from(ring), min_size=1, max_size=2))) for name in inner}
    reference = tuple(ring[: draw(st.integers(1, 2))])
    level = LevelHouse(1, tuple(ring), reference, closed=True, internals=tuple(inner))
    kinds: list[SpotKind] = draw(st.lists(st.sampled_from(["pile", "lean"]), min_size=spots, max_size=1))
    there = [Spot("S", 1, (12000.0, 0.0), 0.0, (8000.0, 2700.0), kind, 1) for kind in kinds]
    choices = StandChoices(
        lap=draw(st.sampled_from(["one-way", "one-way", "both-ways", "free"])),
        direction=draw(st.sampled_from(["auto", "clockwise", "anticlockwise"])),
        hold_open=draw(st.integers(0, 2)),
        internals_any_time=draw(st.booleans()),
    )
    touches = round_touches(ring, touching)
    return house_of(frames, draw(_packs([*ring, *inner])), [level], touches, spots=there, stand=choices)
