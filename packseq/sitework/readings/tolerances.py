"""How far a measured value may be off: sets of limits from published sources, by name.

Inches are turned into mm at 25.4. docs/tolerances.md has every source in full.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, get_args

Check = Literal["line", "plumb", "plumb-along", "level", "position", "diagonal"]
CHECKS: tuple[Check, ...] = get_args(Check)

MEANING: Mapping[Check, str] = MappingProxyType(
    {
        "line": "a plate to a string line",
        "plumb": "a frame across its length",
        "plumb-along": "a frame along its length",
        "level": "a plate to its level",
        "position": "a frame's face to its set-out line",
        "diagonal": "a rectangle of set-out lines",
    }
)


@dataclass(frozen=True, slots=True)
class Limit:
    """The most that a value may be off: `within_mm` over a length of `over_mm` (None: whatever the length).

    Over a longer length it grows in proportion, to `most_mm` at most. Over a shorter one it shrinks in
    proportion only where it is `pro_rated`.
    """

    within_mm: float
    over_mm: float | None = None
    most_mm: float | None = None
    pro_rated: bool = False
    source: str = ""

    def allowed_mm(self, length_mm: float) -> float:
        """Return the most that a value over a length may be off, in mm."""
        if self.over_mm is None:
            return self.within_mm
        if length_mm < self.over_mm and not self.pro_rated:
            return self.within_mm
        grown = self.within_mm * length_mm / self.over_mm
        return grown if self.most_mm is None else min(grown, max(self.most_mm, self.within_mm))

    def __str__(self) -> str:
        if self.over_mm is None:
            return f"{self.within_mm:.4g} mm"
        most = "" if self.most_mm is None else f", at most {self.most_mm:.4g} mm"
        shorter = "in proportion" if self.pro_rated else "the same"
        return f"{self.within_mm:.4g} mm in {self.over_mm:.6g} mm{most}; over less: {shorter}"


@dataclass(frozen=True, slots=True)
class ToleranceSet:
    """Limits under a name; a check that is missing has no limit in this set."""

    name: str
    limits: Mapping[Check, Limit]


def _plumb_only(limit: Limit) -> Mapping[Check, Limit]:
    return MappingProxyType({"plumb": limit, "plumb-along": limit})


_NZ_PLUMB = Limit(
    5, 2400, 15, source="NZS 3604 table 2.1, as quoted by BRANZ Build 184; not pro-rated: Build 155"
)
_NZ = ToleranceSet(
    "nz-framing",
    MappingProxyType(
        {
            "line": Limit(5, 10_000, 10, source="NZS 3604 table 2.1, from memory"),
            "plumb": _NZ_PLUMB,
            "plumb-along": _NZ_PLUMB,
            "level": Limit(5, 10_000, 10, source="NZS 3604, as quoted by BRANZ Build 156"),
            "position": Limit(5, source="NZS 3604 table 2.1, as quoted by BRANZ Build 156 and 184"),
        }
    ),
)

_US_PLUMB = Limit(
    6.35, 3048, source="1/4 in in 10 ft: Handbook of Construction Tolerances, as quoted by WoodWorks"
)
_UFGS_LINE = Limit(6.35, 2438.4, source="1/4 in in 8 ft: UFGS, from a copy")
_US = ToleranceSet(
    "us-framing",
    MappingProxyType(
        {
            "line": _UFGS_LINE,
            "plumb": _US_PLUMB,
            "plumb-along": _US_PLUMB,
            "level": Limit(
                6.35,
                3048,
                12.7,
                source="1/4 in in 10 ft, 1/2 in overall: Handbook of Construction Tolerances, as quoted",
            ),
            "position": Limit(
                3.175, source="1/8 in under 10 ft: Handbook of Construction Tolerances, as quoted"
            ),
            "diagonal": Limit(
                19.05,
                30_480,
                pro_rated=True,
                source="3/4 in in 100 ft, in proportion: Handbook of Construction Tolerances, as quoted",
            ),
        }
    ),
)

_UFGS_PLUMB = Limit(6.35, 2438.4, source="1/4 in in 8 ft, for wallboard: UFGS, as quoted by WoodWorks")
_WALLBOARD = ToleranceSet(
    "us-wallboard",
    MappingProxyType({"line": _UFGS_LINE, "plumb": _UFGS_PLUMB, "plumb-along": _UFGS_PLUMB}),
)

_NAHB_PLUMB = Limit(
    9.525,
    812.8,
    source="3/8 in in any 32 in: NAHB Residential Construction Performance Guidelines, as quoted",
)
_WARRANTY = ToleranceSet("us-warranty", _plumb_only(_NAHB_PLUMB))

_TILE = ToleranceSet(
    "us-tile",
    _plumb_only(
        Limit(3.175, 2438.4, source="1/8 in in 8 ft, tile on thin-set: UFGS, as quoted by WoodWorks")
    ),
)
_LIGHT_COMMERCIAL = ToleranceSet(
    "us-light-commercial",
    _plumb_only(Limit(6.35, 812.8, source="1/4 in in 32 in, light commercial: as quoted by WoodWorks")),
)
_SASKATCHEWAN = ToleranceSet(
    "ca-warranty",
    _plumb_only(Limit(19, 2400, source="19 mm in 2400 mm: Saskatchewan new home warranty 2014, from a copy")),
)

SETS: Mapping[str, ToleranceSet] = MappingProxyType(
    {each.name: each for each in (_NZ, _US, _WALLBOARD, _TILE, _LIGHT_COMMERCIAL, _WARRANTY, _SASKATCHEWAN)}
)
