"""Where a bottom plate is fixed to the slab, by a published rule."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType

_NOISE_MM = 1e-6


@dataclass(frozen=True, slots=True)
class AnchorRule:
    """A rule for fixings along one unbroken length of bottom plate.

    Parameters
    ----------
    name
        What the rule is called on the command line.
    what
        The kind of fixing that it is for.
    spacing_mm
        Most from one fixing to the next.
    end_most_mm, end_least_mm
        The first and last fixing lie within this of the ends of the plate, and no nearer than that.
    edge_mm
        Least from the fixing to the edge of the concrete; 0 where the rule has none.
    two_each
        Whether every length has two or more, however short; else one holds both ends of a short one.
    source
        Where the rule was read, or that it is from memory.
    """

    name: str
    what: str
    spacing_mm: float
    end_most_mm: float
    end_least_mm: float
    edge_mm: float
    two_each: bool
    source: str


RULES: Mapping[str, AnchorRule] = MappingProxyType(
    {
        rule.name: rule
        for rule in (
            AnchorRule(
                name="nz-drilled",
                what="proprietary bottom-plate anchor",
                spacing_mm=900,
                end_most_mm=150,
                end_least_mm=0,
                edge_mm=50,
                two_each=False,
                source="NZS 3604, 7.5.12, as quoted in a BRANZ guideline of May 2010; edge distance as for "
                "cast-in anchors in Build Right, Bottom plate anchors",
            ),
            AnchorRule(
                name="us-bolts",
                what="1/2 in anchor bolt",
                spacing_mm=1829,
                end_most_mm=305,
                end_least_mm=89,
                edge_mm=44,
                two_each=True,
                source="IRC R403.1.6: 6 ft, 12 in, 7 bolt diameters, two or more each; 1 1/2 in of "
                "concrete round the shaft, Indiana 675 IAC 14-4.4-44",
            ),
            AnchorRule(
                name="nz-shot",
                what="shot-fired pin, internal walls that do not brace",
                spacing_mm=600,
                end_most_mm=150,
                end_least_mm=0,
                edge_mm=0,
                two_each=False,
                source="NZS 3604:2011, 7.5.12, from memory",
            ),
        )
    }
)
"""The rules that can be asked for by name."""

STRAPPED_MM = 150.0
"""An anchor stands within this of a strapped trimming stud: BRANZ Build 131, "To strap or not to strap"."""


BESIDE_STUDS_MM = 135.0
"""Clear of a trimming stud and a full stud of 45 mm and half a washer: common practice, no source."""

HOLD_DOWN_CLEAR_MM = 75.0
"""No other fixing within this of a hold-down: common practice, no source."""


@dataclass(frozen=True, slots=True)
class StrappedStud:
    """The side of an opening where a strapped trimming stud stands, in mm from the plate's end.

    `opening_beyond` tells that the opening lies further along than the stud.
    """

    at_mm: float
    opening_beyond: bool

    @property
    def anchor_mm(self) -> float:
        """Where its own anchor goes: beside its studs, away from the opening."""
        return self.at_mm + (-BESIDE_STUDS_MM if self.opening_beyond else BESIDE_STUDS_MM)

    @property
    def within_mm(self) -> tuple[float, float]:
        """The stretch clear of the opening where an anchor still counts as its own."""
        far = self.at_mm + (-STRAPPED_MM if self.opening_beyond else STRAPPED_MM)
        return min(far, self.anchor_mm), max(far, self.anchor_mm)

    def held_by(self, places: Iterable[float]) -> bool:
        """Tell whether one of these fixings is near enough to count as its own."""
        return any(abs(place - self.at_mm) <= STRAPPED_MM + _NOISE_MM for place in places)


def anchor_count(length_mm: float, rule: AnchorRule) -> int:
    """Return how many fixings a plate takes: max(2, ceil((L - 2 e) / s) + 1) with e the most from an end."""
    between_mm = length_mm - 2 * rule.end_most_mm
    return max(2, math.ceil(between_mm / rule.spacing_mm - _NOISE_MM) + 1)


def anchor_places(
    length_mm: float,
    rule: AnchorRule,
    *,
    hold_downs: Sequence[float] = (),
    strapped: Sequence[StrappedStud] = (),
) -> tuple[float, ...] | None:
    """Return where the fixings of one length of plate go, in mm from its end, hold-downs not among them.

    What is fixed first are the hold-downs, then one fixing beside each strapped trimming stud that has
    none within 150 mm; then the ends, where none of those is near enough; then the stretches between,
    evenly, no step longer than the rule has it. A stud beside which a hold-down or the end of the plate
    leaves no room gets none of its own (`StrappedStud.held_by` tells).

    Parameters
    ----------
    length_mm
        Length of the plate.
    rule
        The rule.
    hold_downs
        Where hold-downs stand. Each holds the plate as a fixing does; no other goes within 75 mm.
    strapped
        The strapped trimming studs over this plate.

    Returns
    -------
    None where no fixings keep the rule: the plate is too short for two.
    """
    if length_mm < 2 * rule.end_most_mm and not rule.two_each and not hold_downs:
        return (length_mm / 2,)
    end_mm = max(min(rule.end_most_mm, length_mm / 4), rule.end_least_mm)
    if length_mm <= 2 * end_mm:
        return None
    points = list(hold_downs)
    for stud in strapped:
        own = _clear_of(hold_downs, stud.anchor_mm, *stud.within_mm)
        if stud.held_by(points) or own is None or not 0 < own < length_mm:
            continue
        if rule.end_least_mm <= own <= length_mm - rule.end_least_mm:
            points.append(own)
    points = _ends_held(points, length_mm, end_mm, rule, hold_downs)
    between = [
        before + (after - before) / count * number
        for before, after in pairwise(points)
        if (count := math.ceil((after - before) / rule.spacing_mm - _NOISE_MM)) > 1
        for number in range(1, count)
    ]
    held = frozenset(hold_downs)
    return tuple(place for place in sorted((*points, *between)) if place not in held)


def _ends_held(
    points: Sequence[float], length_mm: float, end_mm: float, rule: AnchorRule, hold_downs: Sequence[float]
) -> list[float]:
    """Return the points in order, with one for each end of the plate that none is near enough to."""
    least, most = rule.end_least_mm, rule.end_most_mm
    near = _clear_of(hold_downs, end_mm, least, most)
    far = _clear_of(hold_downs, length_mm - end_mm, length_mm - most, length_mm - least)
    ends = [
        *([] if near is None or any(place <= most for place in points) else [near]),
        *([] if far is None or any(place >= length_mm - most for place in points) else [far]),
    ]
    return sorted((*points, *ends))


def _clear_of(hold_downs: Sequence[float], at_mm: float, low_mm: float, high_mm: float) -> float | None:
    """Return the place nearest to one, within two limits, that is clear of every hold-down; None for none."""
    beside = (each + side for each in hold_downs for side in (-HOLD_DOWN_CLEAR_MM, HOLD_DOWN_CLEAR_MM))
    clear = (
        place
        for place in (at_mm, *beside)
        if low_mm <= place <= high_mm
        and all(abs(place - each) >= HOLD_DOWN_CLEAR_MM - _NOISE_MM for each in hold_downs)
    )
    return min(clear, key=lambda place: (abs(place - at_mm), place), default=None)
