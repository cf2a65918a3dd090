"""The loading model put together, hinted and read back."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from packseq.loading.assemble import Arranged, balanced
from packseq.loading.job import LoadJob
from packseq.loading.rules import RULES
from packseq.loading.variables import LoadVariables
from packseq.plan.load import LaidLayer, LaidPack
from packseq.standup.solver import Answer

SELDOM_BROKEN = frozenset({"balance"})
"""Rules that are added to the model only once a load breaks them: they are costly, and seldom matter."""


def ruled(
    job: LoadJob, *, leave_out: Collection[str] = SELDOM_BROKEN, eased: str | None = None
) -> LoadVariables:
    """Return the variables of a job with its rules added.

    Parameters
    ----------
    job
        The job.
    leave_out
        Rules that are not added.
    eased
        A limit of ``[load]`` that becomes a variable.
    """
    v = LoadVariables(job, eased=eased)
    for name, rule in RULES.items():
        if name not in leave_out:
            rule(v)
    return v


def read_back(v: LoadVariables, answer: Answer) -> Arranged:
    """Return the packs and the stand order of an answer."""
    order = sorted(v.job.names, key=lambda name: answer[v.up[name]])
    packs = []
    for place, landing in v.job.landings.items():
        layers = []
        for layer in v.layers(place):
            held = [name for name in v.job.frames_of[landing.level] if answer.true(v.at[name, place, layer])]
            if held:
                layers.append(LaidLayer(tuple(held), answer.true(v.beside[place, layer]) and len(held) > 1))
        if layers:
            packs.append(balanced(LaidPack(place, tuple(layers)), v.job.scenario))
    return Arranged(tuple(packs), tuple(order))


def hint(v: LoadVariables, packs: Sequence[LaidPack], order: Sequence[str]) -> None:
    """Hint a load that is known, with the order in which it is stood."""
    for place, name in enumerate(order):
        v.model.add_hint(v.up[name], place)
    held = {
        (name, pack.name, depth)
        for pack in packs
        for depth, layer in enumerate(pack.layers)
        for name in layer.frames
    }
    for key, here in v.at.items():
        v.model.add_hint(here, key in held)
    beneath = _beneath(packs)
    rank = {name: place for place, name in enumerate(order)}
    for name, aside in v.aside.items():
        v.model.add_hint(aside, any(rank[lower] < rank[name] for lower in beneath[name]))


def _beneath(packs: Sequence[LaidPack]) -> Mapping[str, tuple[str, ...]]:
    return {
        name: tuple(lower for under in pack.layers[depth + 1 :] for lower in under.frames)
        for pack in packs
        for depth, layer in enumerate(pack.layers)
        for name in layer.frames
    }
