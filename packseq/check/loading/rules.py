"""The rules of a load, one function each under the name that docs/load.md gives it.

A rule looks at a whole load and yields, in trade words, everything that is wrong with it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise
from types import MappingProxyType

from packseq.check.job import listed
from packseq.check.loading.measure import MeasuredPack, measured
from packseq.plan.load import Load
from packseq.scenario.loadlimits import LoadLimits
from packseq.scenario.model import Scenario

_ROUNDING = 1e-6
"""Keeps sums of halves and decimals from breaking a limit that they meet."""


@dataclass(frozen=True, slots=True)
class LoadFault:
    """A broken rule of a load, and how it is broken."""

    rule: str
    text: str


@dataclass(frozen=True)
class Judged:
    """A load as the rules see it; `wanted` are its packs in the order in which the site first needs them."""

    scenario: Scenario
    load: Load
    wanted: tuple[str, ...]

    @property
    def limits(self) -> LoadLimits:
        """The limits that the packs keep."""
        return self.scenario.load

    @cached_property
    def packs(self) -> tuple[MeasuredPack, ...]:
        """Every pack, measured."""
        return tuple(measured(pack, self.scenario) for pack in self.load.packs)


Rule = Callable[[Judged], Iterator[str]]


def broken_load_rules(scenario: Scenario, load: Load, lifted: Sequence[str] = ()) -> tuple[LoadFault, ...]:
    """Return every broken rule of a load.

    Parameters
    ----------
    scenario
        Frames, landing places, limits and decks; its own packs are not looked at.
    load
        The packs as laid up and how they travel.
    lifted
        The frames in the order in which the site lifts them, or as many as are known: the
        first one of each pack tells when the pack is wanted. Without any, the order of `load.packs`.

    Raises
    ------
    ValueError
        When a pack is empty, or the load does not hold every frame exactly once.
    """
    held = sorted(frame for pack in load.packs for frame in pack.frames)
    if held != sorted(scenario.frames) or any(not pack.layers for pack in load.packs):
        raise ValueError("a load holds every frame once, and no pack is empty")
    pack_of = {frame: pack.name for pack in load.packs for frame in pack.frames}
    wanted = dict.fromkeys([*(pack_of[frame] for frame in lifted), *(pack.name for pack in load.packs)])
    judged = Judged(scenario, load, tuple(wanted))
    return tuple(LoadFault(name, text) for name, rule in RULES.items() for text in rule(judged))


def mass(judged: Judged) -> Iterator[str]:
    """Load no more on a pack than can be landed at its place."""
    for pack in judged.packs:
        most = most_kg_at(judged.scenario, pack.name)
        if pack.mass_kg > most + _ROUNDING:
            yield f"pack {pack.name} weighs {pack.mass_kg:.1f} kg, at most {most:.10g} kg can be landed there"


def most_kg_at(scenario: Scenario, name: str) -> float:
    """Return the most mass of the pack that is landed at a place."""
    landing = scenario.landings.get(name)
    own = None if landing is None else landing.most_kg
    return scenario.load.most_kg if own is None else own


def height(judged: Judged) -> Iterator[str]:
    """Lay up no more layers, and no higher, than the limits."""
    limits = judged.limits
    for pack in judged.packs:
        if len(pack.layers) > limits.most_layers:
            yield f"pack {pack.name} has {len(pack.layers)} layers, at most {limits.most_layers}"
        if pack.height_mm > limits.most_height_mm + _ROUNDING:
            told = f"{pack.height_mm:.0f} mm high with its bearers"
            yield f"pack {pack.name} is {told}, at most {limits.most_height_mm:.10g}"


def length(judged: Judged) -> Iterator[str]:
    """Make no pack longer than the limit."""
    for pack in judged.packs:
        if pack.length_mm > judged.limits.longest_mm:
            yield f"pack {pack.name} is {pack.length_mm} mm long, at most {judged.limits.longest_mm:.10g}"


def width(judged: Judged) -> Iterator[str]:
    """Make no pack wider than the limit."""
    for pack in judged.packs:
        if pack.width_mm > judged.limits.widest_mm:
            yield f"pack {pack.name} is {pack.width_mm} mm wide, at most {judged.limits.widest_mm:.10g}"


def support(judged: Judged) -> Iterator[str]:
    """Let no frame reach past any layer beneath it by more than the overhang."""
    most = judged.limits.overhang_mm
    for pack in judged.packs:
        for number, layer in enumerate(pack.layers, 1):
            for way, reach in zip(("ends", "sides"), layer.overhang_mm, strict=True):
                if reach > most + _ROUNDING:
                    told = f"layer {number} ({listed(layer.layer.frames)}) of pack {pack.name} reaches"
                    yield f"{told} {reach:.0f} mm past a layer beneath it at its {way}, at most {most:.10g}"


def balance(judged: Judged) -> Iterator[str]:
    """Keep the centre of gravity over the middle of the pack."""
    most = judged.limits.balance_mm
    for pack in judged.packs:
        for way, off in zip(("along", "across"), pack.centre_mm, strict=True):
            if abs(off) > most + _ROUNDING:
                told = f"the centre of gravity of pack {pack.name} lies {abs(off):.0f} mm off its middle"
                yield f"{told} {way} the pack, at most {most:.10g}"


def layer_room(judged: Judged) -> Iterator[str]:
    """Share a layer only as allowed, and within the pack's longest and tallest frame."""
    limits = judged.limits
    for pack in judged.packs:
        for number, layer in enumerate(pack.layers, 1):
            names, told = layer.layer.frames, f"layer {number} of pack {pack.name}"
            if len(names) == 1:
                continue
            how = "side by side" if layer.layer.side_by_side else "end to end"
            if not (limits.side_by_side if layer.layer.side_by_side else limits.end_to_end):
                yield f"{listed(names)} share {told} {how}, which is not allowed"
            if layer.reach_mm[0] > pack.length_mm + _ROUNDING:
                row = f"{listed(names)} make {told} {layer.reach_mm[0]:.0f} mm long"
                yield f"{row}, the pack's longest frame is {pack.length_mm}"
            if layer.reach_mm[1] > pack.width_mm + _ROUNDING:
                row = f"{listed(names)} make {told} {layer.reach_mm[1]:.0f} mm wide"
                yield f"{row}, the pack's tallest frame is {pack.width_mm}"


def level_apart(judged: Judged) -> Iterator[str]:
    """Put frames of one level only in a pack, the level of its landing place."""
    frames, landings = judged.scenario.frames, judged.scenario.landings
    for pack in judged.load.packs:
        levels = sorted({frames[name].level for name in pack.frames})
        if len(levels) > 1:
            yield f"pack {pack.name} holds frames of levels {listed(map(str, levels))}"
        elif pack.name in landings and landings[pack.name].level != levels[0]:
            yield f"pack {pack.name} of level {levels[0]} lands on level {landings[pack.name].level}"


def pack_count(judged: Judged) -> Iterator[str]:
    """Make no more packs than may be, each for a landing place of its own."""
    names = [pack.name for pack in judged.load.packs]
    most = judged.limits.most_packs
    if most is not None and len(names) > most:
        yield f"there are {len(names)} packs, at most {most}"
    places = judged.scenario.landings
    nowhere = [name for name in names if name not in places]
    if nowhere and places:
        yield f"no [[pack]] of site.toml says where {listed(nowhere)} is to be landed"
    if len(set(names)) < len(names):
        yield "two packs are landed at one place"


def together(judged: Judged) -> Iterator[str]:
    """Keep in one pack the frames that must travel together."""
    for group in judged.limits.together:
        holding = [pack.name for pack in judged.load.packs if set(pack.frames).intersection(group)]
        if len(holding) > 1:
            yield f"{listed(group)} must travel together and are in packs {listed(holding)}"


def apart(judged: Judged) -> Iterator[str]:
    """Keep in different packs the frames that must not be in one."""
    for group in judged.limits.apart:
        for pack in judged.load.packs:
            inside = [name for name in group if name in pack.frames]
            if len(inside) > 1:
                yield f"{listed(inside)} must not be in one pack and are both in pack {pack.name}"


def delivery_order(judged: Judged) -> Iterator[str]:
    """Have the packs come off the decks in the order in which they are wanted, on decks that carry them."""
    decks = {deck.name: deck for deck in judged.scenario.decks}
    if not decks:
        return
    order = [name for deck in judged.load.decks for name in deck.packs]
    if sorted(order) != sorted(judged.wanted):
        yield "not every pack travels on one deck"
        return
    for first, second in pairwise(order):
        if judged.wanted.index(first) > judged.wanted.index(second):
            yield f"pack {first} comes off before pack {second}, which is wanted first"
    for one, other in combinations(judged.load.decks, 2):
        if one.deck == other.deck:
            yield f"deck {one.deck} is loaded twice"
    by_name = {pack.name: pack for pack in judged.packs}
    for loaded in judged.load.decks:
        deck = decks.get(loaded.deck)
        if deck is None:
            yield f"there is no deck {loaded.deck}"
            continue
        long = sum(by_name[name].length_mm for name in loaded.packs)
        heavy = sum(by_name[name].mass_kg for name in loaded.packs)
        if long > deck.length_mm:
            yield f"the packs on deck {deck.name} are {long} mm long in all, the deck {deck.length_mm:.10g}"
        if heavy > deck.most_kg + _ROUNDING:
            yield f"the packs on deck {deck.name} weigh {heavy:.1f} kg in all, at most {deck.most_kg:.10g} kg"


RULES: Mapping[str, Rule] = MappingProxyType(
    {
        "mass": mass,
        "height": height,
        "length": length,
        "width": width,
        "support": support,
        "balance": balance,
        "layer-room": layer_room,
        "level-apart": level_apart,
        "pack-count": pack_count,
        "together": together,
        "apart": apart,
        "delivery-order": delivery_order,
    }
)
"""Every rule that a load is held to."""
