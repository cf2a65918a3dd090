"""Breaks: consecutive stands that do not touch."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise

from packseq.house.model import House
from packseq.plan.build import Step
from packseq.standup.chain import Chain, Node
from packseq.standup.variables import Expression, Literal, Variables, total


def count_breaks(v: Variables, chain: Chain) -> Expression:
    """Add the chain of stands, set-asides left out, and return how often it breaks.

    A path through all frames along which `up` grows is the stand order itself. Tied to the chain of
    moves: the next stand is the next move, unless that is a set-aside.
    """
    job, model = v.job, v.model
    number = {frame: position for position, frame in enumerate(job.frames, start=1)}
    set_aside_next = _set_aside_next(v, chain)
    arcs: list[tuple[int, int, Literal]] = []
    broken: list[Literal] = []
    for frame in job.frames:
        later = job.later[frame]
        skipped = frozenset[str]().union(*(job.later[middle] for middle in later))
        stand = _stand(v, frame)
        for following in job.frames:
            if following == frame or following in skipped or frame in job.later[following]:
                continue
            arc = model.new_bool_var("")
            arcs.append((number[frame], number[following], arc))
            model.add_implication(arc, v.before(frame, following))
            model.add(v.up[frame] < v.up[following]).only_enforce_if(arc)
            next_stand = _stand(v, following)
            if stand is not None and next_stand is not None:
                straight = chain.follows.get((stand, next_stand), v.never)
                model.add_implication(straight, arc)
                model.add(arc <= total([straight, *set_aside_next[stand]]))
            if following not in job.house.touches[frame]:
                broken.append(arc)
        if not later:
            arcs.append((number[frame], 0, model.new_bool_var("")))
        if not any(frame in job.later[other] for other in job.frames):
            arcs.append((0, number[frame], model.new_bool_var("")))
    model.add_circuit(arcs)
    return total(broken)


def breaks_in(house: House, steps: Sequence[Step]) -> int:
    """Return how many consecutive stands of a plan do not touch."""
    stood = [step.frame for step in steps if step.do == "stand"]
    return sum(following not in house.touches[frame] for frame, following in pairwise(stood))


def _stand(v: Variables, frame: str) -> Node | None:
    """Return the move that stands a frame, None where the search has still to settle which it is."""
    if frame not in v.job.waiting:
        return Node(frame, "pack")
    return Node(frame, "spot") if frame in v.job.surely_waiting else None


def _set_aside_next(v: Variables, chain: Chain) -> dict[Node, list[Literal]]:
    """Return for each move the literals that say a frame that may be set aside is taken off its pack next."""
    nexts: dict[Node, list[Literal]] = defaultdict(list)
    for (node, following), literal in chain.follows.items():
        if node is None or following is None:
            continue
        if following.source == "pack" and following.frame in v.job.waiting:
            nexts[node].append(literal)
    return nexts
