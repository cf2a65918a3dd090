"""The demos loaded: better than delivered, and planned on site with just what the load promised."""

from __future__ import annotations

import threading

import pytest
from load_houses import demo

from packseq.check import replay
from packseq.house.model import House
from packseq.loading.search import LoadSearch
from packseq.plan.model import Plan
from packseq.standup.progress import Progress
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
    proof = LoadSearch(demo(name), Solver(Clock(120.0)), 3.0).fewest_lifts()
    best, bound = proof.found, proof.bound
    assert best is not None
    assert best.kept
    assert (best.worth[0], bound) == (loaded, loaded)
    assert loaded < delivered
    planned = planned_on_site(best.house)
    assert replay(best.house, planned).cost.extra_lifts == loaded


def planned_on_site(house: House) -> Plan:
    """Return the plan; with no extra lift it cannot have fewer, and how little is walked is not asked."""
    stop = threading.Event()

    def hear(progress: Progress) -> None:
        if progress.stage == "extra lifts" and progress.value == 0:
            stop.set()

    return plan_standup(house, limit_s=10, listener=hear, stop=stop)
