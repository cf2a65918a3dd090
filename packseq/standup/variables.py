"""The variables of the stand-up model: when each frame leaves its pack, and when it is stood."""

from __future__ import annotations

from collections.abc import Iterable

from ortools.sat.python import cp_model

from packseq.standup.job import Job

Literal = cp_model.BoolVarT
Expression = cp_model.LinearExpr


def total(terms: Iterable[cp_model.LinearExprT]) -> Expression:
    """Return the sum of expressions and whole numbers."""
    return cp_model.LinearExpr.sum(list(terms))


class Variables:
    """What the rules speak about.

    ``up[f]`` is the place of f's stand among all moves, ``off[f]`` that of the move that takes
    it off its pack: the same move, unless ``aside[f]`` holds. ``at[f, s]`` says that f waits on
    spot s. A frame is set aside at most once. Places need not be all different until the chain of
    moves is added: every rule compares the frames it concerns.
    """

    def __init__(self, job: Job, *, timed: bool = True) -> None:
        """Make the variables; with `timed` False only the order of standing and who must wait.

        Without times nothing is said about when a frame is set aside or where it waits: what is
        proven then holds for every plan, also one that sets a frame aside more than once.
        """
        self.job = job
        self.timed = timed
        self.model = cp_model.CpModel()
        self.always = self.model.new_constant(1)
        self.never = self.model.new_constant(0)
        last = (job.moves if timed else len(job.todo)) - 1
        self.up = {frame: self.model.new_int_var(0, last, f"up {frame}") for frame in job.todo}
        self.off: dict[str, cp_model.IntVar] = dict(self.up)
        self.aside: dict[str, Literal] = dict.fromkeys(job.frames, self.never)
        self.at: dict[tuple[str, str], Literal] = {}
        self._before: dict[tuple[str, str], Literal] = {}
        for frame in job.waiting:
            surely = frame in job.surely_waiting
            self.aside[frame] = self.always if surely else self.model.new_bool_var(f"aside {frame}")
            if timed:
                self._let_wait(frame, last)
        if not timed:
            self.model.add_all_different(self.up.values())
        self.extra_lifts: Expression = total(self.aside[frame] for frame in job.waiting)
        if job.lifts is not None:
            self.model.add(self.extra_lifts == job.lifts)

    def _let_wait(self, frame: str, last: int) -> None:
        model, aside = self.model, self.aside[frame]
        off = self.off[frame] = model.new_int_var(0, last, f"off {frame}")
        model.add(off < self.up[frame]).only_enforce_if(aside)
        model.add(off == self.up[frame]).only_enforce_if(~aside)
        if "spot-room" not in self.job.rules:
            return
        for spot in self.job.spots_for(frame):
            self.at[frame, spot.name] = model.new_bool_var(f"{frame} at {spot.name}")
        model.add(sum(self.at[frame, spot.name] for spot in self.job.spots_for(frame)) == aside)

    def before(self, earlier: str, later: str) -> Literal:
        """Return the literal that says one frame is stood before another."""
        if later in self.job.later[earlier]:
            return self.always
        if earlier in self.job.later[later]:
            return self.never
        if (earlier, later) not in self._before:
            literal = self.model.new_bool_var(f"{earlier} before {later}")
            self.model.add(self.up[earlier] < self.up[later]).only_enforce_if(literal)
            self.model.add(self.up[later] < self.up[earlier]).only_enforce_if(~literal)
            self._before[earlier, later] = literal
            self._before[later, earlier] = ~literal
        return self._before[earlier, later]
