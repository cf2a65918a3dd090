"""The loading model put together, read back, and told what only a replay could find out."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from packseq.loading.assemble import Arranged, balanced
from packseq.loading.job import LoadJob
from packseq.loading.judge import Judged
from packseq.loading.rules import RULES
from packseq.loading.standing import Standing
from packseq.loading.variables import LoadVariables
from packseq.plan.load import LaidLayer, LaidPack
from packseq.standup.solver import Answer
from packseq.standup.variables import Literal

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


def told(v: LoadVariables, judged: Judged, standing: Standing) -> bool:
    """Add to the model why a load fails its replay; return whether anything new was added.

    What is added holds for every load: frames that leave another one no way in, and packs that lie
    where a frame is to be stood.
    """
    clauses = [*_shut_out(v, judged, standing), *_covered(v, judged, standing)]
    for clause in clauses:
        v.model.add_bool_or(clause)
    if not clauses and any(fault.rule == "balance" for fault in judged.faults):
        RULES["balance"](v)
        return True
    return bool(clauses)


def _shut_out(v: LoadVariables, judged: Judged, standing: Standing) -> Iterator[list[Literal]]:
    """Yield, for each frame without a way in, that one of those that shut it off stands later."""
    pack_of = judged.house.scenario.pack_of
    for place, name in enumerate(judged.order):
        by = standing.shut_off_by(name, v.job.landings[pack_of[name]], judged.order[:place])
        if by is not None:
            later = [v.standing.before(name, other) for other in sorted(by)]
            yield [*later, ~v.inside[name, pack_of[name]], v.aside[name]]


def _covered(v: LoadVariables, judged: Judged, standing: Standing) -> Iterator[list[Literal]]:
    """Yield, for each frame on whose line a pack still lies, that what is left there goes first."""
    rank = {name: place for place, name in enumerate(judged.order)}
    for pack in judged.house.scenario.packs.values():
        landing = v.job.landings[pack.name]
        longest = max(pack.frames, key=lambda name: (v.job.scenario.frames[name].length_mm, name))
        tallest = max(pack.frames, key=lambda name: (v.job.scenario.frames[name].height_mm, name))
        for name in sorted(standing.covered(landing, pack.length_mm, pack.width_mm)):
            for other in pack.frames:
                if other != name and rank[other] > rank[name]:
                    makers = {longest, tallest, other}
                    elsewhere = [~v.inside[each, pack.name] for each in sorted(makers)]
                    yield [v.standing.before(other, name), *elsewhere, v.aside[other]]


def _beneath(packs: Sequence[LaidPack]) -> Mapping[str, tuple[str, ...]]:
    return {
        name: tuple(lower for under in pack.layers[depth + 1 :] for lower in under.frames)
        for pack in packs
        for depth, layer in enumerate(pack.layers)
        for name in layer.frames
    }
