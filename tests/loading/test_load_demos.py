"""The demos loaded: better than delivered, and planned on site with just what the load promised."""

from __future__ import annotations

import pytest
from load_houses import demo

from packseq.check import replay
from packseq.loading.search import best_load
from packseq.standup.search import plan_standup


def test_the_garden_room_from_one_landing_place() -> None:
    best = best_load(demo("garden-room"), limit_s=20)
    lifts, packs, _ = best.stages
    # Delivered it costs 4 (its note works that out). One pack, and nothing longer than 300 mm past what is
    # beneath: the 4000 mm frames E6, E3, N1 lie at the bottom. Three are proven.
    assert (lifts.value, lifts.status, packs.value, packs.status) == (3, "optimal", 1, "optimal")
    planned = plan_standup(best.house, limit_s=30)
    assert planned.stages[0].value == best.extra_lifts


@pytest.mark.slow
@pytest.mark.parametrize("name", ["three-bedroom", "l-shaped", "two-level"])
def test_planning_a_loaded_demo_gives_what_the_load_promised(name: str) -> None:
    best = best_load(demo(name), limit_s=180)
    assert (best.stages[0].value, best.stages[0].status) == (0, "optimal")
    planned = plan_standup(best.house, limit_s=120)
    assert replay(best.house, planned).cost.extra_lifts == 0
