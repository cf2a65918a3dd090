"""What no load does with less than: packs by mass, and by length and layers."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from packseq.loading.job import LoadJob


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
