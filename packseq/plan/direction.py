"""The direction of the lap that what stands keeps to."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from packseq.house.model import House, LevelHouse
from packseq.plan.model import LapDirection

BOTH: tuple[LapDirection, ...] = ("anticlockwise", "clockwise")


def chosen_directions(house: House) -> tuple[LapDirection, ...]:
    """Return the directions that the scenario lets a plan take, anticlockwise first."""
    choice = house.scenario.stand.direction
    return BOTH if choice == "auto" else (choice,)


def directions_from(house: House, stood: Sequence[str]) -> tuple[LapDirection, ...]:
    """Return the directions in which the lap may go on from what stands.

    It goes on in the direction in which it was begun: that in which what stands leaves no gap, else that
    in which it stands in the right order. Where what stands keeps to none of the directions that the
    scenario allows, any of them may be gone on in: the site is as it is.
    """
    allowed = chosen_directions(house)
    kept = tuple(direction for direction in allowed if all(map(_in_order, *_begun(house, stood, direction))))
    whole = tuple(direction for direction in kept if all(map(_without_gap, *_begun(house, stood, direction))))
    return whole or kept or allowed


def _begun(
    house: House, stood: Sequence[str], direction: LapDirection
) -> tuple[list[tuple[str, ...]], list[tuple[str, ...]]]:
    """Return the laps of a direction, one for each level, and what stands of each in the order stood."""
    laps = [telling(house, level, direction) for level in house.levels]
    return laps, [only(stood, lap) for lap in laps]


def _in_order(lap: tuple[str, ...], stood: tuple[str, ...]) -> bool:
    return stood == only(lap, stood)


def _without_gap(lap: tuple[str, ...], stood: tuple[str, ...]) -> bool:
    return stood == lap[: len(stood)]


def telling(house: House, level: LevelHouse, direction: LapDirection) -> tuple[str, ...]:
    """Return the frames whose order tells the direction: all the lap if one-way, else the wall."""
    lap = level.stand_round(direction)
    return lap if house.scenario.stand.lap == "one-way" else lap[: len(level.reference)]


def only(order: Iterable[str], names: Collection[str]) -> tuple[str, ...]:
    """Return those of an order that are among `names`."""
    return tuple(name for name in order if name in names)
