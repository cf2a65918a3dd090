"""An order of standing with few extra lifts for a large house, from a narrow look through its states."""

from __future__ import annotations

from collections.abc import Callable

from packseq.standup.lifts import Order
from packseq.standup.states.guide import NO_GUIDE, Guide
from packseq.standup.states.kinds import Kind
from packseq.standup.states.space import Space, open_space
from packseq.standup.states.yard import Yard

# States kept of each layer. Chosen by trial: 300 found no fewer lifts on a house of 110 frames.
_WIDTH = 50


def survey(yard: Yard, most_lifts: int, stopped: Callable[[], bool], guide: Guide = NO_GUIDE) -> Order | None:
    """Return an order with few extra lifts that leaves every frame a way in, None if none is seen.

    What lies on which spot is left out. On the way it is learnt which legs can be walked when, so that
    looking for better orders takes less time. With the guide of a plan some order is seen for sure.
    """
    space = open_space(yard, most_lifts, width=_WIDTH, guide=guide, stopped=stopped)
    if space is None or not len(space):
        return None
    edges = _lightest_way(space)
    names = yard.frames.names
    lifted = [(names[int(space.edges.frame[edge])], space.edges.kind[edge] == Kind.ASIDE) for edge in edges]
    return Order(
        tuple(name for name, aside in lifted if not aside),
        frozenset(name for name, aside in lifted if aside),
    )


def _lightest_way(space: Space) -> list[int]:
    """Return the lifts, by number, of a way from the first state to the last with fewest set aside."""
    edges = space.edges
    asides = (edges.kind == Kind.ASIDE).tolist()
    fewest: dict[int, tuple[int, int]] = {0: (0, -1)}
    sources = edges.source.tolist()
    # Lifts come in the order of the states they leave, so a state is reached before any lift leaves it.
    for edge, (source, target, aside) in enumerate(zip(sources, edges.target.tolist(), asides, strict=True)):
        lifts = fewest[source][0] + aside
        if target not in fewest or lifts < fewest[target][0]:
            fewest[target] = lifts, edge
    taken, state = list[int](), len(space) - 1
    while state:
        edge = fewest[state][1]
        taken.append(edge)
        state = sources[edge]
    return taken[::-1]
