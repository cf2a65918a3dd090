"""The rules in the model: one function each, under the same name as in the check and the docs."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from packseq.standup.rules.lifting import crew_lift, ground_clear, spot_room, top_of_pack
from packseq.standup.rules.order import (
    joined,
    lap_order,
    level_order,
    perimeter_first,
    reference_first,
    way_in,
)
from packseq.standup.variables import Variables

RULES: Mapping[str, Callable[[Variables], None]] = {
    "reference-first": reference_first,
    "lap-order": lap_order,
    "joined": joined,
    "perimeter-first": perimeter_first,
    "top-of-pack": top_of_pack,
    "spot-room": spot_room,
    "way-in": way_in,
    "ground-clear": ground_clear,
    "crew-lift": crew_lift,
    "level-order": level_order,
}
