"""The reference wall: the external run that everything else is set out and measured from."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence

from packseq.errors import Fault
from packseq.geometry import middle, whole_mm
from packseq.house.breaks import listed
from packseq.house.runs import far_ends
from packseq.house.shapes import Leg
from packseq.scenario.model import Location

_SITE = "site.toml"
_KEY = "stand.reference"


def longest_run(runs: Sequence[Sequence[Leg]]) -> tuple[str, ...]:
    """Return the frames of the longest external run, in the run's own order.

    Lengths are from end to end, compared in whole mm. A tie goes to the run whose
    midpoint has the smaller y, then the smaller x (docs/rules.md, reference-first).
    """

    def rank(run: Sequence[Leg]) -> tuple[int, int, int]:
        ends = far_ends(run)
        x, y = middle(*ends)
        return -whole_mm(math.dist(*ends)), whole_mm(y), whole_mm(x)

    return tuple(leg.frame.name for leg in min(runs, key=rank))


def given_run(given: Collection[str], runs: Sequence[Sequence[Leg]]) -> tuple[str, ...] | Fault:
    """Return the given external frames in the order of their run, or what is wrong with them.

    They must belong to one straight run and follow one another in it.
    """
    wanted = set(given)
    holding = [names for run in runs if wanted & set(names := tuple(leg.frame.name for leg in run))]
    if len(holding) > 1:
        parts = " / ".join(listed([name for name in names if name in wanted]) for names in holding)
        return Fault(
            _SITE,
            f"the reference wall must be one straight run; these frames lie in {len(holding)} runs: {parts}",
            column=_KEY,
        )
    (names,) = holding
    places = [place for place, name in enumerate(names) if name in wanted]
    stretch = names[places[0] : places[-1] + 1]
    left_out = [name for name in stretch if name not in wanted]
    if left_out:
        return Fault(
            _SITE,
            f"the reference wall must be unbroken: {listed(left_out)} left out, "
            f"between {stretch[0]} and {stretch[-1]}",
            column=_KEY,
        )
    return stretch


def site_wall_fault(given: Sequence[str], names: Sequence[str]) -> Fault:
    """Return the fault of a reference wall that is only part of a site wall."""
    left_out = [name for name in names if name not in given]
    return Fault(
        _SITE, f"a site wall is its own reference wall, whole: {listed(left_out)} left out", column=_KEY
    )


def internal_faults(given: Sequence[str], locations: Mapping[str, Location]) -> list[Fault]:
    """Return a fault for each frame given for the reference wall that is internal."""
    return [
        Fault(
            _SITE,
            f"{name} is internal: the reference wall is made of external frames",
            column=_KEY,
            frame=name,
        )
        for name in sorted(given)
        if locations[name] == "internal"
    ]
