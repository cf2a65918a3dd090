"""From a plan's head to the job it is replayed with: its spots, places and direction."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import zip_longest

from packseq.check.job import Job, listed
from packseq.house.model import House
from packseq.plan.begin import as_begun
from packseq.plan.direction import chosen_directions, directions_from, telling
from packseq.plan.model import LapDirection, Plan, PlannedSpot
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import spot_stop
from packseq.scenario.limits import MOST_SPOTS
from packseq.scenario.model import Place, Spot
from packseq.scenario.names import name_key

WIDEST_SPOT_MM = 100_000.0
"""No spot is longer or wider: past any building plot that this is for."""


def job_of(house: House, plan: Plan, routes: Routes) -> Job:
    """Return the job that a plan is replayed with.

    Where the head of the plan says what the scenario does not allow, the scenario counts.
    """
    begun = as_begun(house, plan.begins)
    return Job(
        begun,
        spots_of(begun, plan),
        _places_of(begun, plan),
        _direction_of(begun, plan),
        routes,
        plan.begins,
    )


def routes_for(house: House, plan: Plan) -> Routes:
    """Return the routes of a house with the spots that a plan is replayed with.

    They rest on frames, openings, no-go areas, packs and spots alone: how the building is lapped
    makes no difference.
    """
    begun = as_begun(house, plan.begins)
    return build_routes(begun.scenario, [spot_stop(spot) for spot in spots_of(begun, plan).values()])


def spots_of(house: House, plan: Plan) -> Mapping[str, Spot]:
    """Return the scenario's spots, or the plan's own where the scenario has none and they are sound.

    No more than `MOST_SPOTS` of the plan's own are taken: the routes grow with their square.
    """
    if house.scenario.spots:
        return house.scenario.spots
    spots: dict[str, Spot] = {}
    taken: set[str] = set()
    for planned in plan.spots[:MOST_SPOTS]:
        key = name_key(planned.name)
        if key not in taken and unsound(planned, house) is None:
            spots[planned.name] = planned.spot()
        taken.add(key)
    return spots


def unsound(planned: PlannedSpot, house: House) -> str | None:
    """Return why a spot that the plan proposes cannot be, None when it can."""
    if not all(0 < side <= WIDEST_SPOT_MM for side in planned.size_mm):
        return f"is {planned.size_mm[0]:.0f} x {planned.size_mm[1]:.0f} mm"
    if planned.holds < 1:
        return "holds no frame"
    if planned.level not in house.scenario.levels:
        return f"lies on level {planned.level}, which has no frames"
    unknown = [name for name in planned.against if name not in house.scenario.frames]
    if unknown:
        return f"leans on frames that there are not: {listed(unknown)}"
    return None


def _places_of(house: House, plan: Plan) -> Mapping[str, Place]:
    places = {}
    for name, pack in house.scenario.packs.items():
        x, y, bearing = plan.places.get(name, (0.0, 0.0, 0.0))
        stated = Place((x, y), bearing)
        allowed = name in plan.places and stated in pack.places
        places[name] = stated if allowed else pack.places[0]
    return places


def _direction_of(house: House, plan: Plan) -> LapDirection:
    """Return the direction that the moves keep to, or come closest to; the stated one breaks a tie.

    A plan that begins in the middle goes on in a direction that what stands allows: the stated one
    where it is among them.
    """
    if plan.begins is not None:
        allowed = directions_from(house, plan.stood_before)
        return plan.direction if plan.direction in allowed else allowed[0]
    stood = dict.fromkeys(move.frame for move in plan.moves if move.do == "stand")

    def misfits(direction: LapDirection) -> tuple[int, bool]:
        count = sum(_misfits(stood, telling(house, level, direction)) for level in house.levels)
        return (count, direction != plan.direction)

    return min(chosen_directions(house), key=misfits)


def _misfits(stood: Iterable[str], lap: tuple[str, ...]) -> int:
    inside = frozenset(lap)
    pairs = zip_longest((name for name in stood if name in inside), lap)
    return sum(actual != wanted for actual, wanted in pairs)
