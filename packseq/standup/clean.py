"""Packs that unpack clean: a stand order in which each frame lies on top when its turn comes.

It is looked for from its end. The frame stood last lies at the bottom of some pack, and with each frame
taken down fewer walls stand in the way of the others: so this way round few orders lead nowhere.
"""

from __future__ import annotations

from collections.abc import Iterator

from packseq.routes.engine import Routes
from packseq.routes.values import Stop, pack_stop
from packseq.standup.job import Job
from packseq.standup.takedown import TakeDown

_TRIES_FOR_A_FRAME = 20
"""Frames taken down before giving up, for each frame of the house."""


def unpacked_clean(job: Job, routes: Routes) -> tuple[str, ...] | None:
    """Return a stand order without extra lifts; None where none was found, which proves nothing.

    Parameters
    ----------
    job
        A house in one direction, its packs landed.
    routes
        Routes between these packs and the lines.
    """
    if job.surely_waiting:
        return None
    return _Unpacking(job, routes).order()


class _Unpacking:
    def __init__(self, job: Job, routes: Routes) -> None:
        self._taking = taking = TakeDown(job.house, job.direction, routes)
        packs = job.scenario.packs.values()
        self._beneath = {name: taking.set_of(job.beneath(name)) for name in taking.names}
        self._lies: dict[str, Stop] = {
            name: pack_stop(pack, job.places[pack.name]) for pack in packs for name in pack.frames
        }
        across = {pack.name: frozenset(job.across[pack.name]) for pack in packs}
        self._over = {
            name: taking.set_of(other for pack in packs if name in across[pack.name] for other in pack.frames)
            for name in taking.names
        }

    def order(self) -> tuple[str, ...] | None:
        """Take down one frame after another, and step back where nothing can be taken down next."""
        taking = self._taking
        left, taken = taking.everything, list[str]()
        ahead = [self._next(left, None)]
        sets = [left]
        dead: set[tuple[int, str]] = set()
        for _ in range(_TRIES_FOR_A_FRAME * len(taking.names)):
            name = next(
                (name for name in ahead[-1] if (taking.without(sets[-1], name), name) not in dead), None
            )
            if name is None:
                ahead.pop()
                if not taken:
                    return None
                dead.add((sets.pop(), taken.pop()))
                continue
            taken.append(name)
            sets.append(taking.without(sets[-1], name))
            if sets[-1] == 0:
                return tuple(reversed(taken))
            ahead.append(self._next(sets[-1], name))
        return None

    def _next(self, standing: int, after: str | None) -> Iterator[str]:
        """Yield the frames that may have been stood last, just before the one given."""
        taking = self._taking
        for name in taking.last(standing):
            if (
                not self._beneath[name] & standing
                # What is stood later still lies in its pack: not across this line.
                and not self._over[name] & ~standing
                and taking.has_way(name, self._lies[name], standing)
                and (after is None or taking.has_way_back(name, self._lies[after], standing))
            ):
                yield name
