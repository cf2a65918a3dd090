"""What a plan that was made in the middle of the job says of where it begins."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from packseq.check.job import Job, listed


def misstated_beginning(job: Job) -> Iterator[str]:
    """Say what a plan states about its beginning that cannot be so, or leaves out of it.

    Whether it was truly so on site, the check cannot know.
    """
    begin = job.begin
    if begin is None:
        return
    scenario = job.house.scenario
    counted = Counter(begin.mentioned)
    for what, named, known in (
        ("frames", (*counted, *begin.left_out), scenario.frames),
        ("packs", (*begin.packs, *begin.landed), scenario.packs),
        ("spots", begin.spots, job.spots),
    ):
        unknown = [name for name in dict.fromkeys(named) if name not in known]
        if unknown:
            yield f"the plan begins with {what} that there are not: {listed(unknown)}"
    twice = [name for name, count in counted.items() if count > 1]
    if twice:
        yield f"in several places where the plan begins: {listed(twice)}"
    nowhere = [name for name in job.wanted if name not in counted]
    if nowhere:
        yield f"nowhere where the plan begins, and not left out: {listed(nowhere)}"
