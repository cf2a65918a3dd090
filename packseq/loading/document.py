"""A load as plain data, for JSON."""

from __future__ import annotations

from typing import Any

from packseq.check.loading import MeasuredPack
from packseq.loading.best import BestLoad
from packseq.loading.changes import Changes
from packseq.loading.delivered import delivered_document
from packseq.loading.easing import LimitCost


def load_document(best: BestLoad, costs: tuple[LimitCost, ...], changes: Changes | None) -> dict[str, Any]:
    """Return a load as plain data: what it promises, its packs bottom layer first, its decks."""
    document: dict[str, Any] = {
        "stages": [
            {"name": stage.name, "value": stage.value, "bound": stage.bound, "status": stage.status}
            for stage in best.stages
        ],
        "direction": best.plan.direction,
        "stand_order": [move.frame for move in best.plan.moves if move.do == "stand"],
        "packs": [_pack(pack) for pack in best.packs],
        "decks": [{"deck": deck.deck, "comes_off": list(deck.packs)} for deck in best.load.decks],
        "limits": [
            {
                "key": cost.key,
                "value": cost.value,
                "extra_lifts": cost.lifts_with,
                "freed_at": cost.freed_at,
                "extra_lifts_then": cost.lifts_without,
                "nearest_proven": cost.nearest,
            }
            for cost in costs
        ],
    }
    if changes is not None:
        document["delivered"] = delivered_document(changes)
    return document


def _pack(pack: MeasuredPack) -> dict[str, Any]:
    return {
        "pack": pack.name,
        "mass_kg": pack.mass_kg,
        "height_mm": pack.height_mm,
        "length_mm": pack.length_mm,
        "width_mm": pack.width_mm,
        "centre_of_gravity_mm": [round(off, 1) for off in pack.centre_mm],
        "layers_from_the_bottom": [
            {
                "frames": [lying.frame.name for lying in layer.lying],
                "side_by_side": layer.layer.side_by_side,
                "mass_kg": layer.mass_kg,
                "length_mm": layer.reach_mm[0],
                "overhang_mm": max(layer.overhang_mm),
            }
            for layer in reversed(pack.layers)
        ],
    }
