"""From who lies where and who stands when to packs laid up, a plan of moves and trucks loaded."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import permutations
from types import MappingProxyType

from packseq.check.ground import lines_covered
from packseq.check.loading import measured
from packseq.check.state import Heap
from packseq.house.model import House
from packseq.loading.beam import Found
from packseq.loading.job import LoadJob, landings_of
from packseq.loading.waiting import Wait, spots_for
from packseq.plan.build import Step
from packseq.plan.load import DeckLoad, LaidLayer, LaidPack, Load, grams, lying_in
from packseq.routes.engine import Routes
from packseq.routes.values import frame_stop, pack_stop, spot_stop
from packseq.scenario.model import Scenario, Spot
from packseq.scenario.stacks import pack_of_layers

_MOST_SHARING = 5
"""Rows of more frames are left in the order found: every order of these few is tried."""


@dataclass(frozen=True, slots=True)
class Arranged:
    """A load with the order in which it is stood, before it was checked."""

    packs: tuple[LaidPack, ...]
    order: tuple[str, ...]


def arranged(job: LoadJob, found: Found) -> Arranged:
    """Return the packs of a load found, the frames of each row in the order that balances the pack best."""
    packs = (balanced(pack, job.scenario) for pack in found.packs)
    return Arranged(tuple(packs), found.order)


def balanced(pack: LaidPack, scenario: Scenario) -> LaidPack:
    """Return a pack with the frames of each row ordered so that its centre of gravity lies near the middle.

    The row that can pull furthest is settled first, each next one against what pulls so far.
    """
    layers = list(pack.layers)
    offers = {place: _pulls(layer, scenario) for place, layer in enumerate(layers) if len(layer.frames) > 1}
    pulled = {False: 0.0, True: 0.0}
    for place in sorted(offers, key=lambda each: (-max(abs(pull) for pull, _ in offers[each]), each)):
        beside = layers[place].side_by_side
        pull, names = min(offers[place], key=lambda offer: (abs(pulled[beside] + offer[0]), offer[1]))
        pulled[beside] += pull
        layers[place] = LaidLayer(names, beside)
    return LaidPack(pack.name, tuple(layers))


def _pulls(layer: LaidLayer, scenario: Scenario) -> list[tuple[float, tuple[str, ...]]]:
    """Return each order of a row with the moment by which it pulls, in gram mm."""
    orders: Iterable[tuple[str, ...]] = (
        permutations(layer.frames)
        if len(layer.frames) <= _MOST_SHARING
        else (layer.frames, layer.frames[::-1])
    )
    pulls = []
    for names in orders:
        lying = lying_in(replace(layer, frames=names), scenario.frames, scenario.load.layer_gap_mm)
        pulls.append((sum(grams(each.frame) * (each.along_mm + each.across_mm) for each in lying), names))
    return pulls


def loaded(house: House, packs: Sequence[LaidPack]) -> House:
    """Return the house with these packs delivered."""
    landings = landings_of(house.scenario)
    made = {
        pack.name: pack_of_layers(
            landings[pack.name], [layer.frames for layer in pack.layers], house.scenario.frames
        )
        for pack in packs
    }
    in_order = {name: made[name] for name in landings if name in made}
    return replace(house, scenario=replace(house.scenario, packs=MappingProxyType(in_order)))


def waits_in(packs: Sequence[LaidPack], order: Sequence[str], scenario: Scenario) -> tuple[Wait, ...]:
    """Return what a stand order sets aside, in turn: what lies on a frame, just before that stands."""
    above = {
        name: [upper for layer in pack.layers[:depth] for upper in layer.frames]
        for pack in packs
        for depth, layer in enumerate(pack.layers)
        for name in layer.frames
    }
    rank = {name: place for place, name in enumerate(order)}
    lifted: set[str] = set()
    waits: list[Wait] = []
    for name in order:
        for upper in above[name]:
            if upper not in lifted:
                waits.append(Wait(scenario.frames[upper], rank[name], rank[upper]))
                lifted.add(upper)
        lifted.add(name)
    return tuple(waits)


def steps_of(
    waits: Sequence[Wait], order: Sequence[str], house: House, spots: Mapping[str, Spot], routes: Routes
) -> tuple[Step, ...] | None:
    """Return the moves that stand a load in an order; None where what is set aside finds no spot.

    Parameters
    ----------
    waits
        What is set aside (see `waits_in`).
    order
        The stand order.
    house
        The house with the packs delivered.
    spots
        The spots there are.
    routes
        Routes between packs, these spots and lines.
    """
    scenario = house.scenario
    grounds = {Heap(spot.kind, spot.name): (spot.level, spot.footprint) for spot in spots.values()}
    covered = {heap.name: lines for heap, lines in lines_covered(grounds, scenario.frames.values()).items()}

    def may_wait(wait: Wait, spot: Spot) -> bool:
        before, after = frozenset(order[: wait.from_stand]), frozenset(order[: wait.to_stand])
        pack = scenario.packs[scenario.pack_of[wait.frame.name]]
        lies, waits_at = pack_stop(pack, pack.places[0]), spot_stop(spot)
        return (
            not covered[spot.name] & after
            and routes.leg(lies, waits_at, wait.frame, before) is not None
            and routes.leg(waits_at, frame_stop(wait.frame), wait.frame, after) is not None
        )

    where = spots_for(waits, spots, may_wait)
    if where is None:
        return None
    steps: list[Step] = []
    for place, name in enumerate(order):
        steps += [
            Step("set aside", wait.frame.name, to_spot=where[wait.frame.name])
            for wait in waits
            if wait.from_stand == place
        ]
        steps.append(Step("stand", name))
    return tuple(steps)


def travelling(packs: Sequence[LaidPack], order: Sequence[str], scenario: Scenario) -> Load:
    """Return the load, its packs in the order in which they are wanted, each on the first deck with room.

    Packs that no deck takes are left off the decks, for the check to tell.
    """
    rank = {name: place for place, name in enumerate(order)}
    wanted = sorted(packs, key=lambda pack: min(rank[name] for name in pack.frames))
    decks: list[DeckLoad] = []
    coming = [measured(pack, scenario) for pack in wanted]
    for deck in scenario.decks:
        taken: list[str] = []
        long, heavy = 0.0, 0.0
        while coming:
            long, heavy = long + coming[0].length_mm, heavy + coming[0].mass_kg
            if long > deck.length_mm or heavy > deck.most_kg + 1e-6:
                break
            taken.append(coming.pop(0).name)
        if taken:
            decks.append(DeckLoad(deck.name, tuple(taken)))
    return Load(tuple(wanted), tuple(decks))
