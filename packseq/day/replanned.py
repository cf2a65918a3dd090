"""The plan that goes on from here, beside what is left of the old one."""

from __future__ import annotations

from dataclasses import dataclass

from packseq.check import Replay
from packseq.day.follow import Followed
from packseq.day.leftout import LeftOut
from packseq.day.present import Present


@dataclass(frozen=True)
class Rest:
    """What is left of the old plan: how far it was followed, and a replay of the rest from here."""

    followed: Followed
    done: Replay


@dataclass(frozen=True)
class Replanned:
    """A plan from the present state, and all that there is to say about it.

    Parameters
    ----------
    now
        The site as it is.
    left
        What the plan leaves out.
    done
        The new plan as replayed.
    rest
        What is left of the old plan, where one was given.
    """

    now: Present
    left: LeftOut
    done: Replay
    rest: Rest | None
