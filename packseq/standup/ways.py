"""What would shut a carried frame out, learnt from an order of standing that does."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from packseq.routes.values import Stop
from packseq.standup.job import ShutOut
from packseq.standup.states.yard import Yard


def shut_outs(yard: Yard, order: Sequence[str], aside: Iterable[str]) -> Iterator[ShutOut]:
    """Yield what shuts frames out when they are stood in this order.

    Parameters
    ----------
    yard
        Where frames lie and go.
    order
        Every frame that is to be stood, in the order of standing.
    aside
        Frames that wait somewhere before they are stood; all others come straight off their pack.
    """
    waits = frozenset(aside)
    for place, name in enumerate(order):
        number = yard.frames.number[name]
        standing = yard.job.stood.union(order[:place])
        starts = _waiting_places(yard, number) if name in waits else [yard.stops[yard.pack_of[number]]]
        closers: list[frozenset[str]] = []
        for start in starts:
            frame, line = yard.frame(number), yard.lines[number]
            if yard.legs.routes.leg(start, line, frame, standing) is not None:
                break
            closers.append(yard.legs.routes.closes(start, line, frame, standing))
        else:
            if closers:
                yield ShutOut(name, frozenset().union(*closers), unless_aside=name not in waits)


def _waiting_places(yard: Yard, frame: int) -> list[Stop]:
    """Return where a frame may wait, on spots or on packs; the last of them if it is set aside twice."""
    places = [yard.stops[len(yard.packs) + spot] for spot in yard.fitting[frame]]
    level = yard.frame(frame).level
    for number, pack in enumerate(yard.packs):
        if pack.holds and pack.level == level:
            places.append(yard.stops[number])
    return places
