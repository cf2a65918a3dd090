"""What a stand order without ways in teaches of every load: the proofs are told it one by one."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from packseq.loading.standing import Standing


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a failed replay taught of every load of a house in one direction: one of these holds.

    A pair in `before` is stood in this order; a frame of `elsewhere` lies in another pack than the one
    named with it; a frame of `waits` is set aside, one of `not_waits` is not.
    """

    before: tuple[tuple[str, str], ...]
    elsewhere: tuple[tuple[str, str], ...] = ()
    waits: tuple[str, ...] = ()
    not_waits: tuple[str, ...] = ()


def without_a_way(
    order: Sequence[str], pack_of: Mapping[str, str], waiting: Collection[str], standing: Standing
) -> Iterator[Lesson]:
    """Yield, for each frame without a way in, that one of those that shut it off stands later.

    Parameters
    ----------
    order
        A stand order.
    pack_of
        The landing place of each frame's pack.
    waiting
        The frames that are set aside: they come from spots.
    standing
        What knows the ways in.
    """
    for place, name in enumerate(order):
        before, pack = order[:place], pack_of[name]
        if name in waiting:
            by = standing.shut_off_from_spots(name, before)
            if by is not None:
                yield Lesson(tuple((name, other) for other in sorted(by)), not_waits=(name,))
        else:
            by = standing.shut_off_by(name, standing.landing(pack), before)
            if by is not None:
                later = tuple((name, other) for other in sorted(by))
                yield Lesson(later, elsewhere=((name, pack),), waits=(name,))
