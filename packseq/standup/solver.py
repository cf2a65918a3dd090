"""One solve: limits, progress and stopping, with the answer read only after its status."""

from __future__ import annotations

import math
import threading
import time
from dataclasses import dataclass
from typing import Literal

from ortools.sat.python import cp_model

from packseq.standup.progress import Listener, Progress

Ending = Literal["optimal", "feasible", "infeasible", "unknown"]

_ENDINGS: dict[object, Ending] = {
    cp_model.OPTIMAL: "optimal",
    cp_model.FEASIBLE: "feasible",
    cp_model.INFEASIBLE: "infeasible",
    cp_model.UNKNOWN: "unknown",
}


class Clock:
    """How long a search may still go on: a wall limit, and a stop that somebody else may set."""

    def __init__(self, limit_s: float, stop: threading.Event | None = None) -> None:
        self._began = time.monotonic()
        self._limit_s = limit_s
        self.stop = stop or threading.Event()

    @property
    def seconds(self) -> float:
        """Seconds since the search began."""
        return time.monotonic() - self._began

    @property
    def left(self) -> float:
        """Seconds left, 0 once stopped."""
        return 0.0 if self.stop.is_set() else max(0.0, self._limit_s - self.seconds)


@dataclass(frozen=True, slots=True)
class Answer:
    """What a solve found: how it ended, the proven bound, and the value of every variable.

    `value` is None without a solution, `bound` None where nothing was proven; both are whole. `work` is
    what it took, in the library's own units; `worse` has the values of the solutions that were bettered,
    the last of them last.
    """

    ending: Ending
    value: int | None
    bound: int | None
    values: tuple[int, ...]
    work: float = 0.0
    worse: tuple[tuple[int, ...], ...] = ()

    def __bool__(self) -> bool:
        return bool(self.values)

    def __getitem__(self, variable: cp_model.IntVar) -> int:
        return self.values[variable.index]

    def true(self, literal: cp_model.BoolVarT) -> bool:
        """Tell whether a literal, or the negation of one, holds."""
        index = literal.index
        return self.values[index] == 1 if index >= 0 else self.values[-index - 1] == 0


@dataclass(frozen=True, slots=True)
class Solver:
    """Solves models one after another under one clock, with one seed, telling one listener."""

    clock: Clock
    seed: int = 0
    listener: Listener | None = None

    def tell(self, stage: str, value: int | None, bound: int | None) -> None:
        """Tell the listener, if there is one, how far a stage has come."""
        if self.listener is not None:
            self.listener(Progress(stage, value, bound, self.clock.seconds))

    def solve(
        self, model: cp_model.CpModel, work: float, *, side_by_side: bool, from_below: bool = False
    ) -> Answer:
        """Solve a model, the same way every time for the same model, seed and work.

        Parameters
        ----------
        work
            Deterministic limit, in the library's own units; the clock is only a safety stop.
        side_by_side
            Take turns between many searches, good for finding plans; else one search led by the
            linear relaxation, good for proving.
        from_below
            Raise the bound by sets of literals that cannot all be false (unsatisfiable cores) until there is
            a solution: good where the objective counts a few of many literals.
        """
        if self.clock.left <= 0:
            return Answer("unknown", None, None, ())
        solver = cp_model.CpSolver()
        parameters = solver.parameters
        parameters.random_seed = self.seed
        parameters.max_time_in_seconds = self.clock.left
        parameters.max_deterministic_time = work
        # Stopping is the caller's: the library's own handler would replace Python's.
        parameters.catch_sigint_signal = False
        parameters.interleave_search = side_by_side
        if from_below:
            parameters.optimize_with_core = True
            parameters.linearization_level = 0
        # One thread: the same plan on every machine. With more, 9.15 of the library can abort on hinted
        # models ("heuristics.fixed_search != nullptr"; its issue 5025, mended after that release).
        parameters.num_workers = 1
        over = threading.Event()

        def watch_for_stop() -> None:
            while not over.wait(0.05):
                if self.clock.stop.is_set():
                    solver.stop_search()

        watcher = threading.Thread(target=watch_for_stop, daemon=True)
        watcher.start()
        watch = _Watch()
        try:
            status = solver.solve(model, watch)
        finally:
            over.set()
            watcher.join()
        if status == cp_model.MODEL_INVALID:
            raise ValueError(model.validate())
        return _answer(model, solver, _ENDINGS[status], tuple(watch.seen[:-1]))


class _Watch(cp_model.CpSolverSolutionCallback):
    """Notes the values of every solution that is better than those before."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[tuple[int, ...]] = []

    def on_solution_callback(self) -> None:
        self.seen.append(tuple(self.response_proto.solution))


def _answer(
    model: cp_model.CpModel, solver: cp_model.CpSolver, ending: Ending, worse: tuple[tuple[int, ...], ...]
) -> Answer:
    work = solver.response_proto.deterministic_time
    if ending == "infeasible":
        return Answer(ending, None, None, (), work)
    bound = math.ceil(solver.best_objective_bound - 1e-6) if model.has_objective() else None
    if ending == "unknown":
        return Answer(ending, None, bound, (), work)
    value = round(solver.objective_value) if model.has_objective() else None
    return Answer(ending, value, bound, tuple(solver.response_proto.solution), work, worse)
