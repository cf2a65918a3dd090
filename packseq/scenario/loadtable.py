"""``[load]`` of site.toml: the limits of a pack, checked against one another."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, Field, Strict, ValidationInfo, model_validator

from packseq.scenario import limits
from packseq.scenario.loadlimits import Group, LoadLimits
from packseq.scenario.sitevalues import FrameName, Mass, SiteTable, Size, known_frames, once, wrong

Reach = Annotated[float, Strict(), Field(ge=0, le=10_000, allow_inf_nan=False)]
Switch = Annotated[bool, Strict()]
Number = Annotated[int, Strict(), Field(ge=1, le=limits.MOST_FRAMES)]


def _one_level(names: Group, info: ValidationInfo) -> Group:
    levels = known_frames(info).levels
    first = names[0]
    for name in names[1:]:
        if first in levels and name in levels and levels[first] != levels[name]:
            text = f"frame {first} is of level {levels[first]}, frame {name} of level {levels[name]}"
            raise wrong(f"{text}: a pack holds frames of one level")
    return names


Frames = Annotated[
    tuple[FrameName, ...], Field(min_length=2, max_length=limits.MOST_FRAMES), AfterValidator(once)
]
Groups = Annotated[tuple[Frames, ...], Field(max_length=limits.MOST_GROUPS)]
Together = Annotated[
    tuple[Annotated[Frames, AfterValidator(_one_level)], ...], Field(max_length=limits.MOST_GROUPS)
]


_DEFAULTS = LoadLimits()


class LoadTable(SiteTable):
    """``[load]``: the defaults are those of `LoadLimits`."""

    most_kg: Mass = _DEFAULTS.most_kg
    most_layers: Number = _DEFAULTS.most_layers
    most_height_mm: Size = _DEFAULTS.most_height_mm
    bearer_mm: Reach = _DEFAULTS.bearer_mm
    longest_mm: Size = _DEFAULTS.longest_mm
    widest_mm: Size = _DEFAULTS.widest_mm
    most_packs: Number | None = None
    overhang_mm: Reach = _DEFAULTS.overhang_mm
    balance_mm: Reach = _DEFAULTS.balance_mm
    end_to_end: Switch = True
    side_by_side: Switch = True
    layer_gap_mm: Reach = _DEFAULTS.layer_gap_mm
    together: Together = ()
    apart: Groups = ()

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> LoadTable:
        if self.bearer_mm >= self.most_height_mm:
            text = f"bearers {self.bearer_mm:.10g} mm high leave no room for frames"
            raise wrong(f"{text} in a pack {self.most_height_mm:.10g} mm high")
        for names in joined_groups(self.together):
            for other in self.apart:
                both = [name for name in other if name in names]
                if len(both) > 1:
                    raise wrong(f"{both[0]} and {both[1]} must travel together and must not be in one pack")
        return self

    def limits(self) -> LoadLimits:
        """Return the table as the domain knows it."""
        return LoadLimits(**{name: getattr(self, name) for name in type(self).model_fields})


def joined_groups(groups: tuple[Group, ...]) -> tuple[frozenset[str], ...]:
    """Return the frames that must travel together, groups that share a frame made one."""
    joined: list[frozenset[str]] = []
    for group in groups:
        names = frozenset(group)
        names = names.union(*(other for other in joined if other & names))
        joined = [*(other for other in joined if not other & names), names]
    return tuple(joined)
