"""The rules of loading in the model: one function each, named as in the check and docs/load.md."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from packseq.loading.rules.delivery import delivery_order
from packseq.loading.rules.packs import apart, height, level_apart, mass, pack_count, together
from packseq.loading.rules.rows import balance, layer_room, length, support, width
from packseq.loading.variables import LoadVariables

RULES: Mapping[str, Callable[[LoadVariables], None]] = {
    "mass": mass,
    "height": height,
    "length": length,
    "width": width,
    "support": support,
    "balance": balance,
    "layer-room": layer_room,
    "level-apart": level_apart,
    "pack-count": pack_count,
    "together": together,
    "apart": apart,
    "delivery-order": delivery_order,
}
