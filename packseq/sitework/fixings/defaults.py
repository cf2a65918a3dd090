"""What a house needs by published rules, for when the consented schedule is not at hand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from packseq.house.model import House, Join
from packseq.sitework.fixings.model import Bracing, Need
from packseq.sitework.fixings.places import join_place, opening_place, plate_places
from packseq.sitework.laps.plates import Plate, PlateChoices

JOINT_SOURCE = "NZS 3604, 8.7.3: options read, which is for what from memory"
STRAP_SOURCE = "NZS 3604, 8.6.1.7-8, as quoted in BRANZ Build 131"
HOLD_DOWN_SOURCE = "BRANZ guidelines, 2010 and 2013: typical strengths"

MODERATE_UNITS = 100.0
"""Bracing units of a wall up to which its joints take 3 kN, and above which 6 kN (from memory)."""

KN_FOR_100_UNITS = 2.4
"""Where a braced wall meets an external wall, for each 100 bracing units (from memory)."""

WEAKER_UNITS_PER_M, STRONGER_UNITS_PER_M = 120.0, 150.0
"""A hold-down at each end is typically 11 kN for a wall of the first, 15 kN for one of the second."""

TWO_WALLS_UNITS = 125.0
"""A wall that braces more is connected to two external walls: Christchurch City Council, May 2017."""

STRENGTHS_KN = (3, 6)
"""Top-plate connectors that the rule names."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something in the bracing walls that the rules leave to the engineer, or find wanting."""

    place: str
    text: str


def default_needs(
    house: House, bracing: Iterable[Bracing], plates: Sequence[Plate], choices: PlateChoices
) -> tuple[Need, ...]:
    """Return what the house needs by published rules: joints, openings, hold-downs and bottom plates."""
    every = tuple(bracing)
    return (
        *_joints(house, {each.frame: each.units for each in every}),
        *_openings(house),
        *_hold_downs(house, every),
        *_anchors(house, plates, choices),
    )


def joint_kn(house: House, join: Join, units: Mapping[str, float]) -> float:
    """Return the strength in kN that a top-plate joint takes by the published rule.

    3 kN; 6 kN where a frame of it braces more than 100 units; where an internal frame that braces meets an
    external one, no less than 2.4 kN for each 100 units.
    """
    most = max(units.get(name, 0.0) for name in join.frames)
    needed = 6.0 if most > MODERATE_UNITS else 3.0
    inner = [name for name in join.frames if house.locations[name] == "internal"]
    if len(inner) == 1:
        needed = max(needed, KN_FOR_100_UNITS * units.get(inner[0], 0.0) / 100)
    return needed


def findings(house: House, bracing: Iterable[Bracing]) -> Iterator[Finding]:
    """Yield what the published rules leave to the engineer, or find wanting, in the bracing walls."""
    every = tuple(bracing)
    units = {each.frame: each.units for each in every}
    for each in every:
        per_m = units_per_m(house, each)
        if per_m > STRONGER_UNITS_PER_M:
            text = f"braces {per_m:.0f} units a metre: more than the published hold-downs are for"
            yield Finding(each.frame, text)
        if each.units > TWO_WALLS_UNITS and len(external_walls(house, each.frame)) < 2:  # noqa: PLR2004
            text = f"braces {each.units:.0f} units and meets fewer than two external walls: connect it to two"
            yield Finding(each.frame, text)
    for join in house.joins:
        strength = joint_kn(house, join, units)
        if strength > STRENGTHS_KN[-1]:
            text = f"takes {strength:.1f} kN at the top plate: more than the published connectors"
            yield Finding(join_place(join).words, text)


def units_per_m(house: House, bracing: Bracing) -> float:
    """Return the bracing units of each metre of a frame."""
    return bracing.units / (house.scenario.frames[bracing.frame].length_mm / 1000)


def hold_down(units_a_metre: float) -> str:
    """Return the hold-down for a wall by its bracing units a metre: 11 kN up to 120, else 15 kN."""
    return f"hold-down, {11 if units_a_metre <= WEAKER_UNITS_PER_M else 15} kN"


def external_walls(house: House, frame: str) -> frozenset[str]:
    """Return the external walls that a frame's wall is or meets, by name."""
    run = house.run_of[frame]
    meeting = [join for join in house.joins if set(join.frames) & set(run.frames)]
    names = {name for join in meeting for name in join.frames} | {frame}
    return frozenset(house.run_of[name].name for name in names if house.locations[name] == "external")


def _joints(house: House, units: Mapping[str, float]) -> Iterator[Need]:
    for join in house.joins:
        strength = joint_kn(house, join, units)
        connector = next((each for each in STRENGTHS_KN if strength <= each), None)
        what = (
            "top-plate connector by the engineer"
            if connector is None
            else f"top-plate connector, {connector} kN"
        )
        yield Need(what, "top plate", join_place(join).words, join.frames, 1, JOINT_SOURCE)


def _openings(house: House) -> Iterator[Need]:
    for frame in house.scenario.frames.values():
        if house.locations[frame.name] != "external":
            continue
        for opening in frame.openings:
            place = opening_place(frame, opening)
            yield Need("lintel strap, 25 x 1 mm", "lintel", place.words, place.frames, 2, STRAP_SOURCE)
            what = "stud strap, trimming stud to plate"
            yield Need(what, "stud", place.words, place.frames, 2, STRAP_SOURCE)


def _hold_downs(house: House, bracing: Iterable[Bracing]) -> Iterator[Need]:
    for each in bracing:
        what = hold_down(units_per_m(house, each))
        yield Need(what, "hold-down", each.frame, (each.frame,), 2, HOLD_DOWN_SOURCE)


def _anchors(house: House, plates: Sequence[Plate], choices: PlateChoices) -> Iterator[Need]:
    rules = {"external": choices.external, "internal": choices.internal}
    for place in plate_places(plates):
        rule = rules[house.locations[place.words]]
        yield Need(
            rule.what, "anchor", place.words, place.frames, place.times, f"rule {rule.name} of the laps"
        )
