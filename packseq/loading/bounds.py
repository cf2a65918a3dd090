"""What no load does with less than: packs by mass and by length and layers, and walking."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import accumulate, combinations, islice

from packseq.check.rules import ORDER_RULES
from packseq.loading.job import LoadJob, unstacked
from packseq.loading.standing import landing_stop
from packseq.routes.engine import Routes
from packseq.routes.values import frame_stop
from packseq.scenario.model import Landing
from packseq.standup.job import Job

_MOST_CHOICES = 5000
"""Choices of landing places that are looked through; where there are more, all places count as used."""


def fewest_packs(job: LoadJob, level: int) -> int:
    """Return a number of packs that no load of a level does with fewer than.

    The rows that the frames need by length fill so many packs by layers, and their mass so many by what
    can be landed.
    """
    names = job.frames_of[level]
    caps = sorted((job.most_grams[landing.name] for landing in job.landings_on[level]), reverse=True)
    heavy = sum(job.grams[name] for name in names)
    by_mass = next((count for count, room in enumerate(accumulate(caps), 1) if room >= heavy), len(caps) + 1)
    by_pairs = fewest_bins([job.grams[name] for name in names], caps[0])
    by_layers = -(-fewest_rows(job, level) // max(1, job.most_layers[level]))
    return max(by_mass, by_pairs, by_layers)


def fewest_rows(job: LoadJob, level: int) -> int:
    """Return a number of layers that the frames of a level cannot do with fewer than."""
    names = job.frames_of[level]
    limits = job.limits
    lengths = [job.length_mm[name] for name in names]
    widths = [job.width_mm[name] for name in names]
    if limits.side_by_side and sum(sorted(widths)[:2]) + limits.layer_gap_mm <= max(widths):
        areas = [length * width for length, width in zip(lengths, widths, strict=True)]
        return fewest_bins(areas, max(lengths) * max(widths))
    if not limits.end_to_end:
        return len(names)
    gap = int(limits.layer_gap_mm)
    return fewest_bins([length + gap for length in lengths], max(lengths) + gap)


def fewest_bins(sizes: Sequence[int], room: int) -> int:
    """Return a lower bound on the bins of `room` that hold things of these sizes, none larger than it.

    The bound L2 of Martello and Toth, Lower bounds and reduction procedures for the bin packing
    problem, Discrete Applied Mathematics 28 (1990) (from memory): things of more than half the room
    need a bin each, and what is left beside them takes only so much of the middling ones.
    """
    best = 1 if sizes else 0
    for least in sorted({0, *(size for size in sizes if 2 * size <= room)}):
        alone = [size for size in sizes if size > room - least]
        halves = [size for size in sizes if 2 * size > room and size <= room - least]
        small = sum(size for size in sizes if least <= size and 2 * size <= room)
        more = small - (len(halves) * room - sum(halves))
        best = max(best, len(alone) + len(halves) + max(0, -(-more // room)))
    return best


def least_walking(job: LoadJob, routes: Routes, packs: int, *, nothing_waits: bool) -> int:
    """Return a length in mm that no load of so many packs has less walked than.

    Each frame is carried from the best of the landing places used. Where `nothing_waits`, that is past
    what the rules of standing alone have standing by then, and from each line but the last the team goes
    on to the best of the places; else it may go by spots, and only the straight way past nothing counts.
    """
    later = Job(unstacked(job.house), job.direction, {}, {}, frozenset(ORDER_RULES)).later
    walks = {}
    for name in job.names:
        surely = frozenset(other for other in job.names if nothing_waits and name in later[other])
        walks[name] = {
            landing.name: _walks(job, routes, name, landing, surely) for landing in job.landings.values()
        }
    choices = list(islice(combinations(job.landings.values(), packs), _MOST_CHOICES + 1))
    if len(choices) > _MOST_CHOICES:
        choices = [tuple(job.landings.values())]
    best = min((_from(job, chosen, walks, nothing_waits=nothing_waits) for chosen in choices), default=0.0)
    return 0 if math.isinf(best) else int(best)


def _walks(
    job: LoadJob, routes: Routes, name: str, landing: Landing, before: frozenset[str]
) -> tuple[float, float]:
    """Return the shortest walk with a frame from a place, and from its line to there; inf without one."""
    frame = job.scenario.frames[name]
    carried = math.inf
    if frame.level == landing.level:
        there = routes.leg(landing_stop(landing), frame_stop(frame), frame, before)
        carried = math.inf if there is None else there.mm
    back = routes.leg(frame_stop(frame), landing_stop(landing), None, before | {name})
    return carried, math.inf if back is None else back.mm


def _from(
    job: LoadJob,
    chosen: Sequence[Landing],
    walks: Mapping[str, Mapping[str, tuple[float, float]]],
    *,
    nothing_waits: bool,
) -> float:
    carried, back = [], []
    for name in job.names:
        each = [walks[name][landing.name] for landing in chosen]
        carried.append(min(walk for walk, _ in each))
        back.append(min(walk for _, walk in each))
    return sum(carried) + (sum(back) - max(back) if nothing_waits else 0.0)
