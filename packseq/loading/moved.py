"""How many frames differ between two sets of packs."""

from __future__ import annotations

from collections.abc import Sequence

from packseq.plan.load import LaidPack


def moved_between(
    before: Sequence[LaidPack], after: Sequence[LaidPack], names: Sequence[str]
) -> tuple[str, ...]:
    """Return the fewest frames to be moved to make one set of packs of another, in order of `names`.

    Of the frames that stay in their pack, every two lie above, below or beside one another as before.
    """
    stay: set[str] = set()
    then = {pack.name: _depths(pack) for pack in after}
    for pack in before:
        now = _depths(pack)
        later = then.get(pack.name, {})
        stay.update(_longest_kept([name for name in now if name in later], now, later))
    return tuple(name for name in names if name not in stay)


def _depths(pack: LaidPack) -> dict[str, int]:
    return {name: depth for depth, layer in enumerate(pack.layers) for name in layer.frames}


def _longest_kept(names: Sequence[str], before: dict[str, int], after: dict[str, int]) -> list[str]:
    """Return the most frames whose order of layers is the same before and after: the heaviest rising chain.

    Frames that share a layer before and after stay or go as one.
    """
    groups: dict[tuple[int, int], list[str]] = {}
    for name in names:
        groups.setdefault((before[name], after[name]), []).append(name)
    best: dict[tuple[int, int], list[str]] = {}
    for key in sorted(groups):
        earlier = [best[other] for other in best if other[0] < key[0] and other[1] < key[1]]
        best[key] = [*max(earlier, key=len, default=[]), *groups[key]]
    return max(best.values(), key=len, default=[])
