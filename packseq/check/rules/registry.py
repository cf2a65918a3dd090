"""Every rule by name: add one here and the replay and the baselines keep it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from packseq.check.job import Lift
from packseq.check.rules.ground import ground_clear, way_in
from packseq.check.rules.lifting import crew_lift, spot_room, top_of_pack
from packseq.check.rules.order import joined, lap_order, level_order, perimeter_first, reference_first

Rule = Callable[[Lift], Iterator[str]]

ORDER_RULES: Mapping[str, Rule] = MappingProxyType(
    {
        "reference-first": reference_first,
        "lap-order": lap_order,
        "joined": joined,
        "perimeter-first": perimeter_first,
        "level-order": level_order,
    }
)
"""The rules that say what may be stood next, wherever it lies."""

RULES: Mapping[str, Rule] = MappingProxyType(
    {
        **ORDER_RULES,
        "top-of-pack": top_of_pack,
        "spot-room": spot_room,
        "crew-lift": crew_lift,
        "way-in": way_in,
        "ground-clear": ground_clear,
    }
)
"""Every rule that a lift is held to."""


def broken_rules(lift: Lift, rules: Mapping[str, Rule] = RULES) -> Iterator[tuple[str, str]]:
    """Yield the name of each rule that a lift breaks, and how it breaks it."""
    for name, rule in rules.items():
        for text in rule(lift):
            yield name, text
