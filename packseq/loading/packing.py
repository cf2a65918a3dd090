"""Packs for a stand order that is known, laid so that nothing is lifted twice.

With the order known, what is left is a packing: which frame goes in which pack, and which share a row.
That is settled far sooner than packs and order together, so a load found in few packs by no search through
both is often found here, in the order of one that has more.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations, pairwise

from ortools.sat.python import cp_model

from packseq.loading.assemble import Arranged, balanced
from packseq.loading.job import LoadJob
from packseq.loading.keeping import Guess
from packseq.loading.sharing import Row, rows_of
from packseq.loading.standing import Standing, landing_stop
from packseq.plan.load import LaidLayer, LaidPack
from packseq.routes.values import frame_stop
from packseq.scenario.model import Landing
from packseq.standup.solver import Answer, Solver
from packseq.standup.variables import Expression, Literal, total


def packed_in_order(
    job: LoadJob,
    standing: Standing,
    order: Sequence[str],
    solver: Solver,
    *,
    most_packs: int,
    work: float,
    known: Sequence[LaidPack] = (),
) -> Arranged | None:
    """Return packs from which nothing is lifted twice in this stand order; None where none are found.

    Balance and trucks are not asked here, nor all rows tried: a load must still be checked, and finding
    none proves nothing.

    Parameters
    ----------
    job
        The job with its limits.
    standing
        What knows the ways in, and the ground that packs cover.
    order
        The stand order.
    solver
        Solver and clock.
    most_packs
        The most packs there may be.
    work
        Deterministic work.
    known
        Packs that do: those with less walking are looked for. Where there are none, any will do.
    """
    packing = _Packing(job, standing, order)
    if not packing.places_all:
        return None
    packing.model.add(total(packing.used.values()) <= most_packs)
    if known:
        packing.model.minimize(packing.walked_mm)
        packing.hint(known)
    answer = solver.solve(packing.model, work, side_by_side=bool(known))
    return packing.read_back(answer) if answer else None


def packed_alike(
    job: LoadJob,
    standing: Standing,
    guess: Guess,
    solver: Solver,
    *,
    delivered: Sequence[LaidPack],
    work: float,
) -> Arranged | None:
    """Return packs as much as can be like those delivered, for a stand order; None where none are found.

    A frame is not moved that stays in its pack, above, below or beside the others of that pack that are not
    moved. What `packed_in_order` says of what is not asked holds here too.

    Parameters
    ----------
    job, standing, solver, work
        As for `packed_in_order`.
    guess
        The stand order, and that of lifting off the packs: what is lifted before a frame that is stood
        sooner is set aside.
    delivered
        The packs as delivered.
    """
    packing = _Packing(job, standing, guess.order, guess.lifted)
    if not packing.places_all:
        return None
    packing.model.maximize(total(packing.kept(delivered)))
    packing.hint(delivered)
    answer = solver.solve(packing.model, work, side_by_side=False)
    return packing.read_back(answer) if answer else None


class _Packing:
    """The model: ``inside[f, p]`` has frame f in the pack landed at p, ``laid[p]`` says which rows it has."""

    def __init__(
        self, job: LoadJob, standing: Standing, order: Sequence[str], lifted: Sequence[str] | None = None
    ) -> None:
        self._job = job
        self._stood = order
        self._order = order if lifted is None else lifted
        self._rank = {name: place for place, name in enumerate(self._order)}
        self._off = _lifted_before(order, self._order)
        self.model = cp_model.CpModel()
        self.inside: dict[tuple[str, str], Literal] = {}
        self.laid: dict[str, list[tuple[Row, Literal]]] = {}
        self.used: dict[str, Literal] = {}
        walks: dict[tuple[str, str], int] = {}
        for landing in job.landings.values():
            for name, walk_mm in _walks(job, standing, order, self._off, landing).items():
                self.inside[name, landing.name] = self.model.new_bool_var(f"{name} in {landing.name}")
                walks[name, landing.name] = walk_mm
        self.walked_mm: Expression = total(walk_mm * self.inside[key] for key, walk_mm in walks.items())
        for name in order:
            self.model.add_exactly_one(self._packs_of(name))
        for landing in job.landings.values():
            self._lay(landing)
            self._clear_ground(landing, standing)
        self._keep_together_and_apart()

    @property
    def places_all(self) -> bool:
        """Whether each frame can be brought from some pack."""
        return all(self._packs_of(name) for name in self._order)

    def hint(self, packs: Sequence[LaidPack]) -> None:
        """Hint packs that are known."""
        held = {(name, pack.name) for pack in packs for name in pack.frames}
        rows = {(pack.name, frozenset(layer.frames)) for pack in packs for layer in pack.layers}
        for key, inside in self.inside.items():
            self.model.add_hint(inside, key in held)
        for place, each in self.laid.items():
            for row, laid in each:
                self.model.add_hint(laid, (place, frozenset(row.frames)) in rows)

    def kept(self, delivered: Sequence[LaidPack]) -> list[Literal]:
        """Return literals of which each says that one frame more is not moved."""
        kept: dict[str, Literal] = {}
        for pack in delivered:
            here = [name for name in pack.frames if (name, pack.name) in self.inside]
            kept |= {name: self.model.new_bool_var(f"{name} kept") for name in here}
            for name in here:
                self.model.add_implication(kept[name], self.inside[name, pack.name])
            depth_of = {name: depth for depth, layer in enumerate(pack.layers) for name in layer.frames}
            for upper, lower in combinations(here, 2):
                both = [~kept[upper], ~kept[lower]]
                shared = [laid for row, laid in self.laid[pack.name] if {upper, lower} <= set(row.frames)]
                if depth_of[upper] == depth_of[lower]:
                    self.model.add_bool_or(*both, *shared)
                elif self._rank[upper] > self._rank[lower]:
                    self.model.add_bool_or(both)
                else:
                    for laid in shared:
                        self.model.add_bool_or(*both, ~laid)
        return list(kept.values())

    def read_back(self, answer: Answer) -> Arranged:
        """Return the packs of an answer, each row where its frames come in the order."""
        packs = []
        for place, each in self.laid.items():
            rows = [row for row, laid in each if answer.true(laid)]
            rows.sort(key=lambda row: self._rank[row.frames[0]])
            if rows:
                layers = tuple(LaidLayer(row.frames, row.side_by_side) for row in rows)
                packs.append(balanced(LaidPack(place, layers), self._job.scenario))
        return Arranged(tuple(packs), tuple(self._stood))

    def _packs_of(self, name: str) -> list[Literal]:
        return [self.inside[name, place] for place in self._job.landings if (name, place) in self.inside]

    def _lay(self, landing: Landing) -> None:
        """Lay a pack up in rows: what is stood first on top, all of a row before all of any beneath."""
        job, model, place = self._job, self.model, landing.name
        names = [name for name in self._order if (name, place) in self.inside]
        used = self.used[place] = model.new_bool_var(f"{place} used")
        rows = self.laid[place] = [
            (row, model.new_bool_var(f"{'+'.join(row.frames)} in {place}")) for row in rows_of(job, names)
        ]
        holding: dict[str, list[Literal]] = {name: [] for name in names}
        for row, laid in rows:
            for name in row.frames:
                holding[name].append(laid)
            between = self._order[self._rank[row.frames[0]] + 1 : self._rank[row.frames[-1]]]
            for other in between:
                if other not in row.frames and (other, place) in self.inside:
                    model.add_implication(laid, ~self.inside[other, place])
        for name in names:
            model.add_implication(self.inside[name, place], used)
            model.add(total(holding[name]) == self.inside[name, place])
        limits = job.limits
        model.add(total(laid for _, laid in rows) <= limits.most_layers)
        room_mm = int(limits.most_height_mm - limits.bearer_mm)
        model.add(total(row.thick_mm * laid for row, laid in rows) <= room_mm)
        heavy = total(job.grams[name] * self.inside[name, place] for name in names)
        model.add(heavy <= job.most_grams[place])
        for across, sizes in enumerate((job.length_mm, job.width_mm)):
            self._share_room(place, across, names, sizes)
            self._carry(place, across)

    def _share_room(self, place: str, across: int, names: Sequence[str], sizes: Mapping[str, int]) -> None:
        """Keep rows that frames share within the largest frame of the pack."""
        largest = self.model.new_int_var(0, max((sizes[name] for name in names), default=0), "")
        some = []
        for name in names:
            is_largest = self.model.new_bool_var("")
            self.model.add_implication(is_largest, self.inside[name, place])
            self.model.add(largest <= sizes[name]).only_enforce_if(is_largest)
            some.append(is_largest)
        self.model.add(largest == 0).only_enforce_if([~each for each in some])
        for row, laid in self.laid[place]:
            if len(row.frames) > 1:
                self.model.add(largest >= row.reach_mm[across]).only_enforce_if(laid)

    def _carry(self, place: str, across: int) -> None:
        """Have each row carry all above it; ``above[t]`` is the reach of what is stood before place t."""
        twice = int(2 * self._job.limits.overhang_mm + 1e-6)
        most = max((row.reach_mm[across] for row, _ in self.laid[place]), default=0)
        if all(row.bears_mm[across] + twice >= most for row, _ in self.laid[place]):
            return
        above = [self.model.new_int_var(0, most, "") for _ in range(len(self._order) + 1)]
        for earlier, later in pairwise(above):
            self.model.add(earlier <= later)
        for row, laid in self.laid[place]:
            first, last = self._rank[row.frames[0]], self._rank[row.frames[-1]]
            self.model.add(above[last + 1] >= row.reach_mm[across]).only_enforce_if(laid)
            if row.bears_mm[across] + twice < most:
                self.model.add(above[first] <= row.bears_mm[across] + twice).only_enforce_if(laid)

    def _clear_ground(self, landing: Landing, standing: Standing) -> None:
        """Have a pack gone before a line is stood that it is long enough to lie on."""
        place = landing.name
        here = {name: self.inside[name, place] for name in self._order if (name, place) in self.inside}
        stood = {name: turn for turn, name in enumerate(self._stood)}
        for line, long in standing.covered_from(landing).items():
            lies_there = self.model.new_bool_var(f"{place} on {line}")
            for name, inside in here.items():
                if self._job.length_mm[name] >= long:
                    self.model.add_implication(inside, lies_there)
                if self._off[name] > stood[line]:
                    self.model.add_bool_or(~inside, ~lies_there)

    def _keep_together_and_apart(self) -> None:
        for group in self._job.together:
            for place in self._job.landings:
                alike = [self.inside.get((name, place), 0) for name in sorted(group)]
                for other in alike[1:]:
                    self.model.add(alike[0] == other)
        for names in self._job.limits.apart:
            for place in self._job.landings:
                self.model.add_at_most_one(
                    self.inside[name, place] for name in names if (name, place) in self.inside
                )


def _lifted_before(order: Sequence[str], lifted: Sequence[str]) -> dict[str, int]:
    """Return, for each frame, the turn in the stand order just before which, or at which, it is lifted."""
    turn = {name: place for place, name in enumerate(order)}
    off: dict[str, int] = {}
    soonest = len(order)
    for name in reversed(lifted):
        soonest = off[name] = min(soonest, turn[name])
    return off


def _walks(
    job: LoadJob, standing: Standing, order: Sequence[str], off: Mapping[str, int], landing: Landing
) -> dict[str, int]:
    """Return the frames that can be brought from a landing place at their turn, and the walk in mm.

    That is the way to the pack from the line stood before, and from there to the frame's own line. Frames
    that are set aside before may lie anywhere: their ways are left to the check.
    """
    at = landing_stop(landing)
    walks = {}
    for place, name in enumerate(order):
        frame, before = job.scenario.frames[name], frozenset(order[:place])
        if frame.level != landing.level:
            continue
        if off[name] < place:
            walks[name] = 0
            continue
        carried = standing.routes.leg(at, frame_stop(frame), frame, before)
        line = None if place == 0 else frame_stop(job.scenario.frames[order[place - 1]])
        come = None if line is None else standing.routes.leg(line, at, None, before)
        if carried is not None and (line is None or come is not None):
            walks[name] = carried.mm + (0 if come is None else come.mm)
    return walks
