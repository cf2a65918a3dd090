"""Kinds of fixing by what they do, the lines of a schedule, and where they go."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

Function = Literal["top plate", "lintel", "stud", "hold-down", "anchor", "other"]

FUNCTIONS: tuple[Function, ...] = get_args(Function)

_WORDS: tuple[tuple[str, Function], ...] = (
    ("top plate", "top plate"),
    ("top-plate", "top plate"),
    ("lintel", "lintel"),
    ("hold-down", "hold-down"),
    ("hold down", "hold-down"),
    ("holddown", "hold-down"),
    ("anchor", "anchor"),
    ("bottom plate", "anchor"),
    ("bottom-plate", "anchor"),
    ("stud", "stud"),
)
"""What in a name tells what a fixing does; the first that is found counts."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a schedule: so many of a fixing at each of its places.

    Parameters
    ----------
    what
        The fixing, as the schedule names it.
    function
        What it does.
    where
        A frame, or a kind of place such as ``corner`` or ``external opening``.
    how_many
        For each place.
    row
        Its row in the file.
    """

    what: str
    function: Function
    where: str
    how_many: int
    row: int


@dataclass(frozen=True, slots=True)
class Need:
    """So many of a fixing at one place of the house.

    `place` is the place in words, `frames` the frames that it joins or holds, `source` the rule or the row
    of the schedule that asks for it.
    """

    what: str
    function: Function
    place: str
    frames: tuple[str, ...]
    count: int
    source: str


@dataclass(frozen=True, slots=True)
class Bracing:
    """A frame that braces the house, with its bracing units (NZS 3604) as the designer has them."""

    frame: str
    units: float


@dataclass(frozen=True, slots=True)
class Delivered:
    """So many of a fixing, as delivered."""

    what: str
    count: int


def function_of(what: str) -> Function:
    """Return what a fixing does, from its name; ``other`` when the name does not tell."""
    name = what.casefold()
    return next((function for word, function in _WORDS if word in name), "other")
