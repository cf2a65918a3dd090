"""The jobs of a house: a direction to go round it, and where its packs landed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from packseq.house.model import House
from packseq.plan.model import LapDirection
from packseq.scenario.model import Place, Scenario, Spot
from packseq.standup.job import Job
from packseq.standup.landing import landings
from packseq.standup.rules import RULES
from packseq.standup.staging import proposed_spots


def all_jobs(house: House) -> tuple[Job, ...]:
    """Return a job for each direction that the lap may take, and each way that the packs may land."""
    scenario = house.scenario
    wanted = scenario.stand.direction
    directions: tuple[LapDirection, ...] = get_args(LapDirection) if wanted == "auto" else (wanted,)
    return tuple(
        Job(house, direction, _spots(scenario, places), places, frozenset(RULES))
        for places in landings(scenario)
        for direction in directions
    )


def _spots(scenario: Scenario, places: Mapping[str, Place]) -> Mapping[str, Spot]:
    """Return the scenario's spots; proposed ones where it names none and no frame may wait on a pack."""
    if scenario.spots or any(pack.holds for pack in scenario.packs.values()):
        return scenario.spots
    return proposed_spots(scenario, places)
