"""The states that an order of standing comes through: a way that a cut space must not lose."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from types import MappingProxyType

import numpy as np

from packseq.plan.build import Step
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
    gone = set(yard.frames.names_in(yard.gone_at_first))
    steps: list[Step] = []
    for name in order:
        first = {*yard.frames.names_in(yard.above[name])}
        for pack in yard.packs_over[yard.frames.number[name]]:
            first |= {other for other in yard.packs[pack].frames if other != name}
        first |= {name} if name in aside else set()
        steps += [Step("set aside", other) for other in sorted(first - gone, key=yard.depth.__getitem__)]
        steps.append(Step("stand", name))
        gone |= first | {name}
    return guide_along(yard, steps)


def guide_along(yard: Yard, steps: Iterable[Step]) -> Guide:
    """Return the states that the steps of a plan come through.

    A frame that is moved from one spot to another leaves the state as it is.
    """
    frames = yard.frames
    gone, standing = yard.gone_at_first, frames.mask(yard.job.stood)
    layer, guide = 0, dict[int, Bits]()
    for step in steps:
        bit, aside = frames.mask([step.frame]), step.do == "set aside"
        waits = bool((gone & bit).any())
        if waits and aside:
            continue
        layer += 1 if waits or aside else 2
        gone, standing = gone | bit, standing if aside else standing | bit
        guide[layer] = np.concatenate((gone, standing))
    return guide
