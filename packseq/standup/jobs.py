"""The jobs of a house: a direction to go round it, and where its packs landed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import get_args

from packseq.house.model import House
from packseq.plan.direction import directions_from
from packseq.plan.model import LapDirection
from packseq.scenario.landing import landings
from packseq.scenario.model import Place, Spot
from packseq.standup.begun import Begun, as_job
from packseq.standup.job import Job
from packseq.standup.rules import RULES
from packseq.standup.staging import proposed_spots


def all_jobs(house: House) -> tuple[Job, ...]:
    """Return a job for each direction that the lap may take, and each landing that is searched."""
    scenario = house.scenario
    wanted = scenario.stand.direction
    directions: tuple[LapDirection, ...] = get_args(LapDirection) if wanted == "auto" else (wanted,)
    return tuple(
        Job(house, direction, spots, places, frozenset(RULES))
        for places in landings(scenario).searched
        for spots in (_spots(house, places),)
        for direction in directions
    )


def begun_jobs(house: House, begun: Begun) -> tuple[Job, ...]:
    """Return a job for each direction in which the lap may go on from where a plan begins."""
    now, begin = as_job(house, begun), begun.begin
    places = {name: pack.places[0] for name, pack in now.scenario.packs.items()}
    return tuple(
        Job(
            now,
            direction,
            begun.spots,
            places,
            frozenset(RULES),
            begun=True,
            stood=frozenset(begin.stood),
            left_out=frozenset(begin.left_out),
        )
        for direction in directions_from(now, begin.stood)
    )


def one_a_landing(jobs: Iterable[Job]) -> tuple[Job, ...]:
    """Return the first job of each landing."""
    landed: list[Job] = []
    for job in jobs:
        if all(other.places != job.places for other in landed):
            landed.append(job)
    return tuple(landed)


def _spots(house: House, places: Mapping[str, Place]) -> Mapping[str, Spot]:
    """Return the scenario's spots; proposed ones where it names none and no frame may wait on a pack."""
    scenario = house.scenario
    if scenario.spots or any(pack.holds for pack in scenario.packs.values()):
        return scenario.spots
    return proposed_spots(house, places)
