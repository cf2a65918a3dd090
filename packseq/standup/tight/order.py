"""What may be stood next, asked of the check's own rules once for each set of standing frames."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from packseq.check.job import Job, Lift
from packseq.check.rules import ORDER_RULES, broken_rules
from packseq.check.state import Heap, State

Flags = npt.NDArray[np.bool_]
Sets = npt.NDArray[np.int32]
"""Numbers of sets of standing frames, as `StandOrder` gives them out."""

UNKNOWN = -1


class StandOrder:
    """The sets of standing frames of one level, numbered as they come up, and what each lets be stood.

    Rests on the order rules looking at nothing but what stands, and on their never taking back what
    they allow: a frame that may be stood may still be stood once more frames stand. A test holds
    the rules to that.

    Parameters
    ----------
    job
        The job that the check's rules are asked about.
    frames
        The frames of one level; arrays have a row for each, in this order.
    """

    def __init__(self, job: Job, frames: Sequence[str]) -> None:
        self.frames = tuple(frames)
        self._job = job
        level = job.house.scenario.frames[self.frames[0]].level
        self._below = job.below[level]
        self._numbers: dict[frozenset[int], int] = {}
        self._sets: list[frozenset[int]] = []
        self._allowed: Flags = np.zeros((len(self.frames), 64), bool)
        self._after: Sets = np.full((len(self.frames), 64), UNKNOWN, np.int32)
        self.none_standing = self._number(frozenset(), frozenset())

    def allowed(self, standing: Sets) -> Flags:
        """Return which frames (rows) may be stood next in each set (columns)."""
        return np.take(self._allowed, standing, axis=1)

    def after(self, standing: Sets, stood: npt.NDArray[np.intp]) -> Sets:
        """Return the numbers of the sets with one more frame standing in each.

        Every frame in `stood` is one that its set allows.
        """
        found = self._after[stood, standing]
        unknown = np.flatnonzero(found == UNKNOWN)
        if unknown.size:
            pairs = sorted({(int(standing[column]), int(stood[column])) for column in unknown})
            for number, frame in pairs:
                before = self._sets[number]
                known = frozenset(map(int, np.flatnonzero(self._allowed[:, number])))
                following = self._number(before | {frame}, known - {frame})
                self._after[frame, number] = following
            found = self._after[stood, standing]
        return found

    def before(self) -> Flags | None:
        """Tell for each frame (rows) and each other (columns) whether it is stood first in every plan.

        One frame surely comes before another when nothing gets as far as the other without it. None
        when the order rules alone keep some frame from ever being stood.
        """
        count = len(self.frames)
        order = self._far_as_it_goes(frozenset(), without=None)
        if len(order) < count:
            return None
        first = np.zeros((count, count), bool)
        for place, frame in enumerate(order):
            reached = self._far_as_it_goes(frozenset(order[:place]), without=frame)
            missing = [other for other in order[place + 1 :] if other not in reached]
            first[frame, missing] = True
        return first

    def _far_as_it_goes(self, standing: frozenset[int], *, without: int | None) -> list[int]:
        """Stand whatever may be stood, again and again, but for one frame; return it in order."""
        done = sorted(standing)
        allowed: frozenset[int] = frozenset()
        while True:
            allowed = self._may_stand(frozenset(done), allowed)
            fresh = sorted(allowed - {without})
            if not fresh:
                return done
            done += fresh
            allowed -= frozenset(fresh)

    def _number(self, standing: frozenset[int], known: frozenset[int]) -> int:
        """Return the number of a set; `known` are frames that it is known to allow."""
        if standing in self._numbers:
            return self._numbers[standing]
        number = len(self._sets)
        if number == self._allowed.shape[1]:
            self._allowed = np.concatenate([self._allowed, np.zeros_like(self._allowed)], axis=1)
            self._after = np.concatenate([self._after, np.full_like(self._after, UNKNOWN)], axis=1)
        self._numbers[standing] = number
        self._sets.append(standing)
        self._allowed[sorted(self._may_stand(standing, known)), number] = True
        return number

    def _may_stand(self, standing: frozenset[int], known: frozenset[int]) -> frozenset[int]:
        """Return the frames that may be stood next; those `known` are not asked about again."""
        stood = (*self._below, *(self.frames[frame] for frame in sorted(standing)))
        state = State({}, {}, stood, frozenset(stood))
        scenario = self._job.house.scenario
        found = set(known)
        for frame, name in enumerate(self.frames):
            if frame in standing or frame in known:
                continue
            value = scenario.frames[name]
            source = Heap("pack", scenario.pack_of[name])
            lift = Lift(self._job, state, value, source, None, scenario.crew.team(value.mass_kg), None)
            if next(broken_rules(lift, ORDER_RULES), None) is None:
                found.add(frame)
        return frozenset(found)
