"""From bare steps to a whole plan: numbers, teams, legs and what each frame touches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from packseq.house.model import House
from packseq.plan.begin import Begin, as_begun
from packseq.plan.direction import chosen_directions, only, telling
from packseq.plan.model import LapDirection, Move, Plan, PlannedSpot, StageResult, Status, Where
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import Leg, Stop, frame_stop, pack_stop, spot_stop, whole_points
from packseq.scenario.model import Place, Spot


@dataclass(frozen=True, slots=True)
class Step:
    """One lift in the fewest words. A `set aside` names one target; `why` is worked out if left."""

    do: Literal["stand", "set aside"]
    frame: str
    to_spot: str | None = None
    to_pack: str | None = None
    why: str | None = None


@dataclass(frozen=True, slots=True)
class _Lying:
    """Where a frame lies and how high; a frame on a lean lies on nothing."""

    where: Where
    height: int

    @property
    def heap(self) -> tuple[str | None, str | None]:
        return (self.where.pack, self.where.spot)


def build_plan(
    house: House,
    steps: Sequence[Step],
    *,
    spots: Mapping[str, Spot],
    places: Mapping[str, Place],
    stages: Sequence[StageResult] = (),
    status: Status = "best found",
    routes: Routes | None = None,
    begin: Begin | None = None,
    direction: LapDirection | None = None,
) -> Plan:
    """Return the plan that carries out the steps in order.

    Nothing is checked here: the replay judges the plan. Names must be those of the scenario.

    Parameters
    ----------
    house
        The house that the steps stand.
    steps
        Lifts in order.
    spots
        Every spot that the plan has, used or not.
    places
        The place of every pack.
    stages, status
        What the search found, as it goes into the plan.
    routes
        The routes of the scenario with these spots; built here unless given.
    begin
        What stands and lies where before the first step; everything as delivered unless given.
    direction
        The direction of the lap; the one that the stand order keeps to unless given.
    """
    house = as_begun(house, begin)
    scenario = house.scenario
    ways = routes or build_routes(scenario, [spot_stop(spot) for spot in spots.values()])
    lying = _as_delivered(house) if begin is None else _as_begun(begin, spots)
    stood: list[str] = [] if begin is None else list(begin.stood)
    moves: list[Move] = []
    team_at: Stop | None = None
    for number, step in enumerate(steps, 1):
        frame = scenario.frames[step.frame]
        source = lying.pop(step.frame)
        target = None if step.do == "stand" else Where(pack=step.to_pack, spot=step.to_spot)
        pick_up = _stop(source.where, house, spots, places)
        drop = frame_stop(frame) if target is None else _stop(target, house, spots, places)
        standing = frozenset(stood)
        empty = None if team_at is None else ways.leg(team_at, pick_up, None, standing)
        loaded = ways.leg(pick_up, drop, frame, standing)
        team_at = drop
        why = None
        if target is None:
            touches = tuple(near for near in house.touches[step.frame] if near in standing)
            stood.append(step.frame)
        else:
            touches = None
            why = step.why or _why(source, lying, steps[number:])
            lying[step.frame] = _put_down(target, lying, spots)
        moves.append(
            Move(
                n=number,
                do=step.do,
                stand=len(stood) if target is None else None,
                frame=step.frame,
                origin=source.where,
                to=target,
                people=scenario.crew.team(frame.mass_kg),
                empty_mm=_mm(empty),
                loaded_mm=_mm(loaded),
                route_mm=() if loaded is None else whole_points(loaded.points),
                touches=touches,
                why=why,
            )
        )
    reference = {name for level in house.levels for name in level.reference}
    return Plan(
        scenario=scenario.name,
        scenario_sha256=scenario.sha256,
        status=status,
        direction=direction or _direction(house, stood),
        reference=tuple(name for name in stood if name in reference),
        held_open=_held_open(house, stood),
        places={name: (*place.at, place.bearing_deg) for name, place in places.items()},
        stages=tuple(stages),
        spots=tuple(PlannedSpot.of(spot) for spot in spots.values()),
        moves=tuple(moves),
        begins=begin,
    )


def _as_delivered(house: House) -> dict[str, _Lying]:
    return {
        name: _Lying(Where(pack=pack.name, layer=number), len(pack.layers) - depth)
        for pack in house.scenario.packs.values()
        for depth, (layer, number) in enumerate(zip(pack.layers, pack.layer_numbers, strict=True))
        for name in layer
    }


def _as_begun(begin: Begin, spots: Mapping[str, Spot]) -> dict[str, _Lying]:
    lying = {
        name: _Lying(Where(pack=pack, layer=layer.layer), height)
        for pack, layers in begin.packs.items()
        for height, layer in enumerate(reversed(layers), 1)
        for name in layer.frames
    }
    for spot, frames in begin.spots.items():
        for height, name in enumerate(frames, 1):
            lying[name] = _Lying(Where(spot=spot), 0 if spots[spot].kind == "lean" else height)
    return lying


def _stop(where: Where, house: House, spots: Mapping[str, Spot], places: Mapping[str, Place]) -> Stop:
    if where.spot is not None:
        return spot_stop(spots[where.spot])
    name = where.pack or ""
    return pack_stop(house.scenario.packs[name], places[name])


def _mm(leg: Leg | None) -> int:
    """Return the length of a leg; one that has no way is not walked."""
    return 0 if leg is None else leg.mm


def _put_down(target: Where, lying: Mapping[str, _Lying], spots: Mapping[str, Spot]) -> _Lying:
    down = _Lying(target, 0)
    if target.spot is not None and spots[target.spot].kind == "lean":
        return down
    heights = [other.height for other in lying.values() if other.heap == down.heap]
    return _Lying(target, 1 + max(heights, default=0))


def _why(source: _Lying, lying: Mapping[str, _Lying], later: Sequence[Step]) -> str | None:
    """Name the frame underneath that is stood next."""
    for step in later:
        below = lying.get(step.frame)
        if step.do != "stand" or below is None or below.heap != source.heap:
            continue
        if below.height < source.height:
            return f"above {step.frame}"
    return None


def _direction(house: House, stood: Sequence[str]) -> LapDirection | None:
    """Return the direction that the stand order keeps to, None if neither."""
    for direction in chosen_directions(house):
        laps = [telling(house, level, direction) for level in house.levels]
        if all(only(stood, lap) == lap for lap in laps):
            return direction
    return None


def _held_open(house: House, stood: Sequence[str]) -> tuple[str, ...]:
    """Return the perimeter frames stood after the first internal frame of their level."""
    begun: set[int] = set()
    held = []
    for name in stood:
        level = house.level_of[name]
        if name in level.internals:
            begun.add(level.level)
        elif level.level in begun:
            held.append(name)
    return tuple(held)
