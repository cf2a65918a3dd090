"""The states that an order of standing comes through: a way that a cut space must not lose."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from types import MappingProxyType

import numpy as np

from packseq.standup.states.bits import Bits
from packseq.standup.states.yard import Yard

Guide = Mapping[int, Bits]
"""By layer, as a space counts them, what is gone and then what stands, in one row of words."""
NO_GUIDE: Guide = MappingProxyType({})


def guide_of(yard: Yard, order: Sequence[str], aside: Collection[str]) -> Guide:
    """Return the states that an order comes through if frames wait no longer than they must.

    Parameters
    ----------
    yard
        The job.
    order
        Every frame that is to be stood, in the order of standing.
    aside
        Frames that wait somewhere before they are stood. One that waits for another reason than what
        lies beneath it, or where its pack lies, is set aside just before it is stood: it may be that
        no plan does so, and the guide is then no state of any.
    """
    frames = yard.frames
    gone, standing = yard.gone_at_first, frames.mask(yard.job.stood)
    layer, guide = 0, dict[int, Bits]()

    def note(lifts: int) -> None:
        nonlocal layer
        layer += lifts
        guide[layer] = np.concatenate((gone, standing))

    for name in order:
        number, bit = frames.number[name], frames.mask([name])
        first = [*frames.names_in(yard.above[name])]
        for pack in yard.packs_over[number]:
            first += [other for other in yard.packs[pack].frames if other != name]
        first += [name] if name in aside else []
        for other in sorted(set(first) - frames.names_in(gone), key=yard.depth.__getitem__):
            gone = gone | frames.mask([other])
            note(1)
        waits = name in frames.names_in(gone)
        gone, standing = gone | bit, standing | bit
        note(1 if waits else 2)
    return guide
