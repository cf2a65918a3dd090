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

    It goes on in the direction in which it was begun. Where what stands keeps to none of the
    directions that the scenario allows, any of them may be gone on in: the site is as it is.
    """
    allowed = chosen_directions(house)
    kept = tuple(
        direction
        for direction in allowed
        if all(
            only(stood, lap) == only(lap, stood)
            for lap in (telling(house, level, direction) for level in house.levels)
        )
    )
    return kept or allowed


def telling(house: House, level: LevelHouse, direction: LapDirection) -> tuple[str, ...]:
    """Return the frames whose order tells the direction: all the lap if one-way, else the wall."""
    lap = level.stand_round(direction)
    return lap if house.scenario.stand.lap == "one-way" else lap[: len(level.reference)]


def only(order: Iterable[str], names: Collection[str]) -> tuple[str, ...]:
    """Return those of an order that are among `names`."""
    return tuple(name for name in order if name in names)
