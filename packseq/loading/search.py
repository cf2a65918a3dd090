"""From a house to its best load: fewest extra lifts on site, then fewest packs, then least walking."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from packseq.check.loading import RULES
from packseq.errors import Conflict, LimitError, NoPlanError
from packseq.house.model import House
from packseq.loading.best import LIFTS, PACKS, WALKING, BestLoad, best_of_all
from packseq.loading.bounds import fewest_packs
from packseq.loading.job import LoadJob
from packseq.loading.judge import Judged, judge
from packseq.loading.packing import packed_in_order
from packseq.loading.prove import Proof, fewest_lifts, surely_more_packs
from packseq.loading.seeking import Aim, Seeker, best_of
from packseq.loading.standing import Standing
from packseq.loading.walking import least_walking
from packseq.plan.model import LapDirection
from packseq.standup.solver import Solver

_PROOF_WORK_PER_SECOND = 0.15
_PACKING_WORK_PER_SECOND = 0.15
_WALKING_WORK_PER_SECOND = 0.05
_SOON_PROVEN = 12
"""Houses of up to so many frames are proven sooner than searched through."""
_FEW = 4
_PATIENCE = 8

TOGETHER = Conflict(tuple(RULES), "no load that keeps all the limits can be stood, which is proven")


@dataclass(frozen=True)
class LoadSearch:
    """One search for the best load of a house, by one solver with its clock, work measured by `limit_s`."""

    house: House
    solver: Solver
    limit_s: float

    @cached_property
    def seeker(self) -> Seeker:
        """What searches for loads."""
        return Seeker(self.house, self.solver, self.limit_s)

    @property
    def jobs(self) -> tuple[LoadJob, ...]:
        """A job for each direction, with as many packs as there may be."""
        return self.seeker.jobs

    @property
    def standing(self) -> Mapping[LapDirection, Standing]:
        """What may stand last, for each direction."""
        return self.seeker.standing

    @cached_property
    def fewest(self) -> int:
        """The packs that no load does with fewer than."""
        return sum(fewest_packs(self.jobs[0], level) for level in self.house.scenario.levels)

    def best(self) -> BestLoad:
        """Return the best load found.

        Raises
        ------
        NoPlanError
            When it is proven that there is none.
        LimitError
            When none was found in time.
        """
        proof = self.fewest_lifts()
        if proof.impossible:
            raise NoPlanError([TOGETHER])
        if proof.found is None:
            raise LimitError("the limit was reached before any load was found")
        return self.finished(proof.found, proof.bound)

    def finished(self, best: Judged, lifts_bound: int) -> BestLoad:
        """Return a load as good with fewer packs and less walking, as far as they are found."""
        self.solver.tell(PACKS, best.worth[1], self.fewest)
        best, packs_bound = self._fewer_packs(best)
        self.solver.tell(WALKING, best.worth[2], None)
        best = self._less_walking(best)
        lifts, packs, _ = best.worth
        least = (
            least_walking(job, self.standing[job.direction].routes, packs, nothing_waits=lifts == 0)
            for job in self.jobs
        )
        walking_bound = min((each for each in least if each is not None), default=0)
        return best_of_all(best, (lifts_bound, packs_bound, walking_bound))

    def fewest_lifts(self) -> Proof:
        """Return a load with as few extra lifts as could be found, if there is any, and what is proven."""
        soon = len(self.house.scenario.frames) <= _SOON_PROVEN
        few = _FEW if soon else self.seeker.share(0.5)
        # A large house may take all the time there is: then any load is better than none.
        net = None if soon else self.seeker.sought("any", self._quick())
        if net is not None and net.worth[0] == 0:
            return Proof(0, net)
        best = self.seeker.sought("lifts", Aim(few, leave=0.4))
        if best is None and not soon:
            best = best_of([net, self._with_lifts("more lifts", few)])
        proof = self._proven(best)
        if not soon or proof.impossible or (proof.found is not None and proof.found.worth[0] <= proof.bound):
            return proof
        more = self.seeker.share(0.5)
        none_waits = None if proof.bound else self.seeker.sought("no lifts", Aim(more, leave=0.3))
        found = best_of([proof.found, none_waits or self._with_lifts("still more", more)])
        return Proof(proof.bound, found)

    def _quick(self) -> Aim:
        """Return what finds some load soon, however many of its frames are lifted twice."""
        frames = len(self.house.scenario.frames)
        return Aim(_FEW, most_left_over=frames // 3, enough=frames, leave=0.4, narrow=True)

    def _proven(self, best: Judged | None) -> Proof:
        """Return what is proven, with a better load where the proof comes upon one."""
        if best is not None and best.worth[0] == 0:
            return Proof(0, best)
        work = self.limit_s * _PROOF_WORK_PER_SECOND
        proof = fewest_lifts(self.jobs, self.standing, best, self.solver, work)
        self.solver.tell(LIFTS, None if proof.found is None else proof.found.worth[0], proof.bound)
        return proof

    def _with_lifts(self, name: str, searches: int) -> Judged | None:
        """Search for loads in which some frames are lifted twice; if there is none, let any be."""
        frames = len(self.house.scenario.frames)
        for allowed, leave in ((max(4, frames // 4), 0.3), (frames, 0.1)):
            aim = Aim(searches, most_left_over=allowed, enough=1, leave=leave)
            found = self.seeker.sought(f"{name} {allowed}", aim)
            if found is not None:
                return found
        return None

    def _fewer_packs(self, best: Judged) -> tuple[Judged, int]:
        """Take packs away while that costs no extra lift; return the load and the proven bound."""
        while best.worth[1] > self.fewest and self.solver.clock.left > 0:
            packed = self._packed_anew(best, best.worth[1] - 1)
            if packed is not None:
                best = packed
                continue
            if self._needs(best, share=0.2):
                return best, best.worth[1]
            lifts, packs, _ = best.worth
            fewer = self.seeker.sought(
                f"{packs - 1} packs",
                Aim(
                    self.seeker.share(0.25),
                    most_packs=packs - 1,
                    most_left_over=lifts,
                    enough=lifts,
                    leave=0.3,
                ),
            )
            if fewer is None or fewer.worth[0] > lifts:
                return best, packs if self._needs(best, share=1.0) else self.fewest
            best = fewer
        return best, min(self.fewest, best.worth[1])

    def _packed_anew(self, best: Judged, most_packs: int) -> Judged | None:
        """Return a load in the stand order of one without extra lifts, of no more packs than so many.

        Where the one known has no more, it is one with less walking.
        """
        if best.worth[0] > 0:
            return None
        job = next(job for job in self.jobs if job.direction == best.plan.direction)
        standing = self.standing[job.direction]
        known = best.load.packs if best.worth[1] <= most_packs else ()
        work = self.limit_s * (_WALKING_WORK_PER_SECOND if known else _PACKING_WORK_PER_SECOND)
        found = packed_in_order(
            job, standing, best.order, self.solver, most_packs=most_packs, work=work, known=known
        )
        judged = None if found is None else judge(job, found, standing.routes)
        return judged if judged is not None and judged.kept and judged.worth < best.worth else None

    def _needs(self, best: Judged, share: float) -> bool:
        """Tell whether it is proven that one pack fewer costs more extra lifts, with a share of the work."""
        work = share * self.limit_s * _PROOF_WORK_PER_SECOND
        return surely_more_packs(self.jobs, best.worth[0], best.worth[1] - 1, self.solver, work)

    def _less_walking(self, best: Judged) -> Judged:
        """Search on for loads as good that have less walked."""
        lifts, packs, _ = best.worth
        again = self.seeker.sought(
            "walking",
            Aim(
                self.seeker.share(0.5),
                most_packs=packs,
                most_left_over=lifts,
                enough=None,
                patience=_PATIENCE,
                walking=0.02,
                leave=0.15,
            ),
        )
        best = best if again is None else min(best, again, key=lambda each: each.worth)
        return self._packed_anew(best, best.worth[1]) or best
