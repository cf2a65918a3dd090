"""Loads against what plants do without a plan, each planned on site by the same planner.

Run by hand: ``python tests/benchmarks/loading.py [NAME ...]``; a number stands for a generated house of so
many frames in six packs.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from generated import generated_scenario

from packseq.check.loading import broken_load_rules
from packseq.errors import LimitError, NoPlanError
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.loading.best import PACKS, WALKING, BestLoad
from packseq.loading.finding import best_load
from packseq.loading.job import landings_of
from packseq.plan.load import Load, as_laid
from packseq.scenario.model import Scenario
from packseq.scenario.read import read_scenario
from packseq.scenario.stacks import pack_of_layers
from packseq.standup.progress import Progress
from packseq.standup.search import plan_standup

SCENARIOS = Path(__file__).parents[2] / "scenarios"
NAMES = ("garden-room", "tight-site", "three-bedroom", "two-level", "l-shaped", "110")
LIMIT_S = 60.0
LONGER_S = {"l-shaped": 180.0}
PLAN_S = 30.0

Order = Callable[[House, Sequence[str]], Sequence[str]]


def longest_at_the_bottom(house: House, names: Sequence[str]) -> Sequence[str]:
    frames = house.scenario.frames
    return sorted(names, key=lambda name: (frames[name].length_mm, name))


def drawing_order(house: House, names: Sequence[str]) -> Sequence[str]:
    """Lay the first of the drawing at the bottom, as a stacker does that works through the list."""
    rank = {name: place for place, name in enumerate(house.scenario.frames)}
    return sorted(names, key=lambda name: -rank[name])


def stacked(house: House, order: Order) -> House:
    """Share the frames out in drawing order between the landing places, each frame in a layer of its own."""
    scenario = house.scenario
    packs = {}
    for level in scenario.levels:
        names = [name for name, frame in scenario.frames.items() if frame.level == level]
        places = [landing for landing in landings_of(scenario).values() if landing.level == level]
        share = -(-len(names) // len(places))
        for number, landing in enumerate(places):
            part = names[number * share : (number + 1) * share]
            if part:
                layers = [(name,) for name in order(house, part)]
                packs[landing.name] = pack_of_layers(landing, layers, scenario.frames)
    return replace(house, scenario=replace(scenario, packs=MappingProxyType(packs)))


def in_reverse_of(best: BestLoad) -> House:
    """Lay each pack up in the reverse of the stand order, one frame to a layer, whatever the limits say."""
    rank = {move.frame: number for number, move in enumerate(best.plan.moves) if move.do == "stand"}
    return stacked(best.house, lambda _, names: sorted(names, key=lambda name: rank[name]))


def broken(scenario: Scenario) -> int:
    laid = tuple(as_laid(pack, scenario.frames, scenario.load) for pack in scenario.packs.values())
    return len({fault.rule for fault in broken_load_rules(scenario, Load(laid))})


def planned(house: House) -> str:
    try:
        stage = plan_standup(house, limit_s=PLAN_S).stages[0]
    except (LimitError, NoPlanError) as error:
        return type(error).__name__
    return f"{stage.value}{'' if stage.status == 'optimal' else f' (at least {stage.bound})'}"


def lines(name: str) -> Iterator[str]:
    if name.isdigit():
        house = derive_house(generated_scenario(int(name), packs=6))
    else:
        house = derive_house(read_scenario(SCENARIOS / name))
    began, worked = time.monotonic(), time.process_time()
    reached: dict[str, float] = {}

    def hear(progress: Progress) -> None:
        reached.setdefault(progress.stage, time.process_time() - worked)

    best = best_load(house, limit_s=LONGER_S.get(name, LIMIT_S), listener=hear)
    spent, work = time.monotonic() - began, time.process_time() - worked
    told = ", ".join(f"{stage.name} {stage.value} (at least {stage.bound})" for stage in best.stages)
    begun = ", ".join(f"{stage} from {reached[stage]:.0f} s" for stage in (PACKS, WALKING))
    yield f"{name}: best load in {spent:.0f} s, {work:.0f} s of processor time ({begun}): {told}"
    yield f"  planned on site: extra lifts {planned(best.house)}"
    for label, other in (
        ("as delivered", house),
        ("longest at the bottom", stacked(house, longest_at_the_bottom)),
        ("drawing order", stacked(house, drawing_order)),
        ("reverse stand order, no limits", in_reverse_of(best)),
    ):
        yield f"  {label}: extra lifts {planned(other)}, rules of a load broken: {broken(other.scenario)}"


def main() -> None:
    for name in sys.argv[1:] or NAMES:
        for line in lines(name):
            print(line, flush=True)


if __name__ == "__main__":
    main()
