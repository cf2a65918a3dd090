"""A load stood by another plan than the one that it was found with."""

from __future__ import annotations

from dataclasses import replace

from packseq.check import replay
from packseq.check.loading import broken_load_rules, measured
from packseq.loading.assemble import travelling
from packseq.loading.best import BestLoad, stages_of
from packseq.plan.model import Plan


def better_planned(best: BestLoad, plan: Plan) -> BestLoad:
    """Return a load with a plan for it, where that has fewer extra lifts and its trucks allow it."""
    done = replay(best.house, plan)
    if not done.kept or done.cost.extra_lifts >= best.extra_lifts:
        return best
    scenario = best.house.scenario
    order = [move.frame for move in plan.moves if move.do == "stand"]
    lifted = list(dict.fromkeys(move.frame for move in plan.moves))
    load = travelling(best.load.packs, order, scenario)
    if broken_load_rules(scenario, load, lifted):
        return best
    bounds = [stage.bound for stage in best.stages]
    # How few packs do, and how little is walked, was asked of loads with more extra lifts.
    stages = stages_of((done.cost.extra_lifts, len(load.packs), done.cost.walking_mm), (bounds[0], 0, 0))
    packs_now = tuple(measured(pack, scenario) for pack in load.packs)
    return replace(best, load=load, packs=packs_now, plan=plan, stages=stages)
