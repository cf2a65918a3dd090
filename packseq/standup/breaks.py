"""Breaks: consecutive stands that do not touch."""

from __future__ import annotations

from packseq.standup.variables import Expression, Literal, Variables, total


def count_breaks(v: Variables) -> Expression:
    """Add the chain of stands, set-asides left out, and return how often it breaks.

    A path through all frames along which `up` grows is the stand order itself.
    """
    job, model = v.job, v.model
    number = {frame: position for position, frame in enumerate(job.frames, start=1)}
    arcs: list[tuple[int, int, Literal]] = []
    broken: list[Literal] = []
    for frame in job.frames:
        later = job.later[frame]
        skipped = frozenset[str]().union(*(job.later[middle] for middle in later))
        for following in job.frames:
            if following == frame or following in skipped or frame in job.later[following]:
                continue
            arc = model.new_bool_var("")
            arcs.append((number[frame], number[following], arc))
            model.add_implication(arc, v.before(frame, following))
            model.add(v.up[frame] < v.up[following]).only_enforce_if(arc)
            if following not in job.house.touches[frame]:
                broken.append(arc)
        if not later:
            arcs.append((number[frame], 0, model.new_bool_var("")))
        if not any(frame in job.later[other] for other in job.frames):
            arcs.append((0, number[frame], model.new_bool_var("")))
    model.add_circuit(arcs)
    return total(broken)
