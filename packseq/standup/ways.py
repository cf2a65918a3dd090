"""What would shut carried frames out, learnt from an order of standing that does."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from packseq.routes.values import Stop
from packseq.standup.job import ShutOut
from packseq.standup.states.bits import Bits
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
    frames, legs = yard.frames, yard.legs.open
    waits = frozenset(aside)
    standing = frames.mask(yard.job.stood)
    for name in order:
        number = frames.number[name]
        starts = _waiting_places(yard, number) if name in waits else [yard.stops[yard.pack_of[number]]]
        closers: list[Bits] = []
        for start in starts:
            shut = legs.shut_by(start, yard.lines[number], yard.frame(number), standing)
            if shut is None:
                break
            closers.append(shut)
        else:
            if closers:
                by = frames.names_in(np.bitwise_or.reduce(closers))
                yield ShutOut(name, by, unless_aside=name not in waits)
        standing = standing | frames.mask([name])


def also_shut_out(yard: Yard, known: Iterable[ShutOut]) -> Iterator[ShutOut]:
    """Yield what is known to shut frames out, and the others that the same frames shut out.

    A pocket that is closed for one frame is closed for the others whose lines lie in it.
    """
    frames, legs = yard.frames, yard.legs.open
    known = tuple(known)
    yield from known
    for by in dict.fromkeys(each.by for each in known):
        standing = frames.mask(by | yard.job.stood)
        for name in yard.job.todo:
            number = frames.number[name]
            if name in by:
                continue
            line, frame = yard.lines[number], yard.frame(number)
            closer = legs.shut_by(yard.stops[yard.pack_of[number]], line, frame, standing)
            if closer is None:
                continue
            yield ShutOut(name, frames.names_in(closer), unless_aside=True)
            closers = [legs.shut_by(place, line, frame, standing) for place in _waiting_places(yard, number)]
            shut = [each for each in closers if each is not None]
            if shut and len(shut) == len(closers):
                by_all = frames.names_in(np.bitwise_or.reduce([closer, *shut]))
                yield ShutOut(name, by_all, unless_aside=False)


def _waiting_places(yard: Yard, frame: int) -> list[Stop]:
    """Return where a frame may wait, on spots or on packs; the last of them if it is set aside twice."""
    places = [yard.stops[len(yard.packs) + spot] for spot in yard.fitting[frame]]
    level = yard.frame(frame).level
    for number, pack in enumerate(yard.packs):
        if pack.holds and pack.level == level:
            places.append(yard.stops[number])
    return places
