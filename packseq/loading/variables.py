"""The variables of the loading model: in which layer of which pack each frame lies, and when it stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property

from ortools.sat.python import cp_model

from packseq.check.rules import ORDER_RULES
from packseq.loading.job import LoadJob, unstacked
from packseq.standup.job import Job
from packseq.standup.rules import RULES as STANDING
from packseq.standup.variables import Expression, Literal, Variables, total

Slot = tuple[str, int]
"""A layer of a landing place, 0 on top."""


class LoadVariables:
    """What the rules of loading speak about.

    ``at[f, p, l]`` says that frame f lies in layer l of the pack landed at p, ``inside[f, p]`` that it
    lies in that pack, ``used[p, l]`` that the layer has frames. ``up[f]`` is its place in the
    stand order, which the rules of standing already hold; ``aside[f]`` says that it stands after some
    frame beneath it, ``again[f]`` that it cannot wait on another pack without being lifted once more, where
    frames can wait nowhere else. `eased` names one limit that is not fixed: `limit` then gives a variable
    for it.
    """

    def __init__(self, job: LoadJob, *, eased: str | None = None) -> None:
        self.job = job
        self.eased = eased
        self._easing: cp_model.IntVar | None = None
        standing = Variables(
            Job(unstacked(job.house), job.direction, {}, {}, frozenset(ORDER_RULES)), timed=False
        )
        for name in sorted(ORDER_RULES):
            STANDING[name](standing)
        self.standing = standing
        self.model = standing.model
        self.up: Mapping[str, cp_model.IntVar] = standing.up
        self.at: dict[tuple[str, str, int], Literal] = {}
        self.inside: dict[tuple[str, str], Literal] = {}
        self.used: dict[Slot, Literal] = {}
        self.beside: dict[Slot, Literal] = {}
        for landing in job.landings.values():
            self._lay_out(landing.name, landing.level)
        for name, frame in job.scenario.frames.items():
            here = [landing.name for landing in job.landings_on[frame.level]]
            self.model.add_exactly_one(self.inside[name, place] for place in here)
        self.aside = {name: self.model.new_bool_var(f"aside {name}") for name in job.names}
        self.again: dict[str, Literal] = {}
        self._gone: dict[Slot, cp_model.IntVar] = {}
        for landing in job.landings.values():
            self._tell_who_waits(landing.name, landing.level)
        if job.waits_on_packs:
            for name in job.names:
                self._tell_what_is_lifted_again(name)
        self.extra_lifts: Expression = total([*self.aside.values(), *self.again.values()])

    def _lay_out(self, place: str, level: int) -> None:
        names = self.job.frames_of[level]
        for layer in self.layers(place):
            for name in names:
                self.at[name, place, layer] = self.model.new_bool_var(f"{name} in {place} {layer}")
            used = self.used[place, layer] = self.model.new_bool_var(f"{place} {layer} used")
            in_layer = [self.at[name, place, layer] for name in names]
            self.model.add_max_equality(used, in_layer)
            self.beside[place, layer] = (
                self.model.new_bool_var(f"{place} {layer} side by side")
                if self.may_lie_beside[level]
                else self.standing.never
            )
            if layer:
                self.model.add_implication(used, self.used[place, layer - 1])
        for name in names:
            inside = self.inside[name, place] = self.model.new_bool_var(f"{name} in {place}")
            layers = [self.at[name, place, layer] for layer in self.layers(place)]
            self.model.add(total(layers) == inside)

    def _tell_who_waits(self, place: str, level: int) -> None:
        """Have a frame set aside that stands after some frame beneath it.

        ``gone`` is a moment between what stands first beneath a layer and what is stood straight from it
        and from those above.
        """
        last = len(self.job.names)
        gone = self.model.new_constant(0)
        for layer in self.layers(place):
            before, gone = gone, self.model.new_int_var(0, last, f"{place} {layer} gone")
            self._gone[place, layer] = gone
            self.model.add(before <= gone)
            for name in self.job.frames_of[level]:
                here = self.at[name, place, layer]
                self.model.add(self.up[name] >= before).only_enforce_if(here)
                self.model.add(self.up[name] < gone).only_enforce_if(here, ~self.aside[name])

    def _tell_what_is_lifted_again(self, name: str) -> None:
        """Have a frame that waits lifted again unless it finds a pack from which it can be stood.

        Of such a pack nothing that is still there when the frame is put down is stood before the frame.
        """
        model, up = self.model, self.up
        level = self.job.scenario.frames[name].level
        put_down = model.new_int_var(0, len(self.job.names), f"{name} put down")
        on: list[Literal] = []
        for landing in self.job.landings_on[level]:
            place = landing.name
            for layer in self.layers(place):
                model.add(put_down <= self._gone[place, layer]).only_enforce_if(self.at[name, place, layer])
            if not landing.holds:
                continue
            waits = model.new_bool_var(f"{name} waits on {place}")
            on.append(waits)
            model.add_implication(waits, ~self.inside[name, place])
            model.add_implication(waits, self.used[place, 0])
            for other in self.job.frames_of[level]:
                there = [waits, self.inside[other, place], ~self.aside[other]]
                sooner = model.new_bool_var(f"{other} gone before {name} is put down")
                model.add(up[other] < put_down).only_enforce_if(*there, sooner)
                model.add(up[other] > up[name]).only_enforce_if(*there, ~sooner)
        again = self.again[name] = model.new_bool_var(f"{name} lifted again")
        model.add_bool_or(*on, again, ~self.aside[name])

    @cached_property
    def may_lie_beside(self) -> Mapping[int, bool]:
        """For each level whether any two of its frames could lie side by side in a pack."""
        limits, job = self.job.limits, self.job
        return {
            level: limits.side_by_side
            and len(names) > 1
            and sum(sorted(job.width_mm[name] for name in names)[:2]) + limits.layer_gap_mm
            <= max(job.width_mm[name] for name in names)
            for level, names in job.frames_of.items()
        }

    def layers(self, place: str) -> range:
        """Return the layers that the pack at a place can have, 0 on top."""
        level = self.job.landings[place].level
        if self.eased in ("most_layers", "most_height_mm"):
            return range(len(self.job.frames_of[level]))
        return range(self.job.most_layers[level])

    def slots(self) -> Iterator[tuple[Slot, tuple[str, ...]]]:
        """Yield every layer of every landing place with the frames that could lie in it."""
        for place, landing in self.job.landings.items():
            for layer in self.layers(place):
                yield (place, layer), self.job.frames_of[landing.level]

    def limit(self, name: str, value: float, most: float) -> cp_model.IntVar | int:
        """Return a limit rounded down to a whole number; a variable up to `most` if it is the eased one."""
        if name == self.eased:
            return self.easing(int(value), int(most))
        return int(value + 1e-6)

    def easing(self, least: int, most: int) -> cp_model.IntVar:
        """Return the variable of the eased limit."""
        if self._easing is None:
            self._easing = self.model.new_int_var(least, max(least, most), "eased limit")
        return self._easing
