"""Whether a whole pack keeps its limits, asked many times over: balance and what lies elsewhere left out."""

from __future__ import annotations

import math
from collections.abc import Sequence

from packseq.loading.job import LoadJob
from packseq.plan.load import LaidLayer, LaidPack


def fits(job: LoadJob, pack: LaidPack) -> bool:
    """Tell whether a pack keeps its mass, height, support, layer room, and what is together and apart."""
    limits, held = job.limits, frozenset(pack.frames)
    thick_mm = sum(max(job.thickness_mm[name] for name in layer.frames) for layer in pack.layers)
    return (
        sum(job.grams[name] for name in held) <= job.most_grams[pack.name]
        and len(pack.layers) <= limits.most_layers
        and thick_mm <= limits.most_height_mm - limits.bearer_mm
        and all(group <= held or not group & held for group in job.together)
        and all(len(held.intersection(group)) <= 1 for group in limits.apart)
        and _lies_well(job, pack)
    )


def _lies_well(job: LoadJob, pack: LaidPack) -> bool:
    """Tell whether every row is shared as allowed, within the pack and carried by all beneath it."""
    limits = job.limits
    reach_mm = 2 * limits.overhang_mm
    most_long = max(job.length_mm[name] for name in pack.frames)
    most_wide = max(job.width_mm[name] for name in pack.frames)
    bears_long = bears_wide = math.inf
    for layer in reversed(pack.layers):
        beside = layer.side_by_side
        if len(layer.frames) > 1 and not (limits.side_by_side if beside else limits.end_to_end):
            return False
        long, wide = _row(job, layer)
        if (
            long > most_long
            or wide > most_wide
            or long > bears_long + reach_mm
            or wide > bears_wide + reach_mm
        ):
            return False
        bears_long = min(bears_long, min(job.length_mm[name] for name in layer.frames) if beside else long)
        bears_wide = min(bears_wide, wide if beside else min(job.width_mm[name] for name in layer.frames))
    return True


def _row(job: LoadJob, layer: LaidLayer) -> tuple[float, float]:
    """Return the length and width of a row."""
    lengths = [job.length_mm[name] for name in layer.frames]
    widths = [job.width_mm[name] for name in layer.frames]
    if layer.side_by_side:
        return max(lengths), _one_after_another(widths, job.limits.layer_gap_mm)
    return _one_after_another(lengths, job.limits.layer_gap_mm), max(widths)


def _one_after_another(sizes: Sequence[int], gap_mm: float) -> float:
    return sum(sizes) + gap_mm * (len(sizes) - 1)


def without(pack: LaidPack, name: str) -> LaidPack:
    """Return a pack with one frame taken out."""
    return LaidPack(
        pack.name,
        tuple(
            LaidLayer(kept, layer.side_by_side and len(kept) > 1)
            for layer in pack.layers
            if (kept := tuple(other for other in layer.frames if other != name))
        ),
    )


def put_in(pack: LaidPack, name: str) -> list[LaidPack]:
    """Return a pack with one frame more: in a layer of its own anywhere, from the top, or sharing one."""
    layers = pack.layers
    own = [
        LaidPack(pack.name, (*layers[:depth], LaidLayer((name,)), *layers[depth:]))
        for depth in range(len(layers) + 1)
    ]
    shared = [
        LaidPack(pack.name, (*layers[:depth], LaidLayer((*layer.frames, name), beside), *layers[depth + 1 :]))
        for depth, layer in enumerate(layers)
        for beside in (False, True)
        if len(layer.frames) == 1 or layer.side_by_side == beside
    ]
    return [*own, *shared]
