"""The demos loaded: better than delivered, and planned on site with just what the load promised."""

from __future__ import annotations

import pytest
from load_houses import demo

from packseq.check import replay
from packseq.check.loading import broken_load_rules
from packseq.loading.search import LoadSearch
from packseq.standup.search import plan_standup
from packseq.standup.solver import Clock, Solver

# Extra lifts as delivered, as README and the demos' notes tell them, and of the best load.
DEMOS = {
    "garden-room": (4, 3),
    "tight-site": (4, 1),
    "three-bedroom": (15, 0),
    "two-level": (16, 0),
    "l-shaped": (14, 0),
}


@pytest.mark.parametrize("name", DEMOS)
def test_planning_a_loaded_demo_gives_what_the_load_promised(name: str) -> None:
    delivered, loaded = DEMOS[name]
    # Work for a few seconds only, and a clock that lets a busy machine take its time over it.
    best = LoadSearch(demo(name), Solver(Clock(120.0)), 6.0).best()
    assert (best.stages[0].value, best.stages[0].status) == (loaded, "optimal")
    assert loaded < delivered
    lifted = [move.frame for move in best.plan.moves]
    assert broken_load_rules(best.house.scenario, best.load, lifted) == ()
    planned = plan_standup(best.house, limit_s=8)
    assert replay(best.house, planned).cost.extra_lifts == loaded
