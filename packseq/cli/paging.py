"""``packseq page``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from packseq.check import Replay
from packseq.cli.checkedplan import read_checked_plan
from packseq.cli.drawing import level_files
from packseq.cli.streams import write_aside, write_json
from packseq.cli.writing import refuse_early
from packseq.drawing.floorplan import plan_drawing
from packseq.errors import OutputError
from packseq.files import write_whole
from packseq.page.crew import crew_page
from packseq.page.live import page_data


@dataclass(frozen=True, slots=True)
class PageJob:
    """Which plan to show, and where the page and the drawings go (None: not written)."""

    folder: Path
    plan_file: Path
    out: Path | None
    svg: Path | None
    force: bool


def show_page(job: PageJob, *, as_json: bool) -> None:
    """Write the crew's page, and the floor plan by itself, for a plan that keeps the rules.

    Raises
    ------
    InputError
        With every fault of the scenario and of the plan file.
    NoPlanError
        When the plan fails its check, with everything that is wrong.
    OutputError
        When a file cannot be written; then none is.
    """
    done = read_checked_plan(job.folder, job.plan_file)
    files = _contents(done, job)
    for file in files:
        refuse_early(file, job.folder, force=job.force)
        if file.resolve() == job.plan_file.resolve():
            raise OutputError(f"{file}: is the plan itself")
    for file, content in files.items():
        write_whole(file, content, force=job.force)
    for file in files:
        write_aside([f"Written: {file}"])
    if as_json:
        write_json(page_data(done))


def _contents(done: Replay, job: PageJob) -> Mapping[Path, str]:
    files = {} if job.out is None else {job.out: crew_page(done)}
    if job.svg is None:
        return files
    if job.out is not None and job.out.resolve() == job.svg.resolve():
        raise OutputError(f"{job.out}: cannot be both the page and the drawing")
    house = done.job.house
    svg_files = level_files(job.svg, [level.level for level in house.levels])
    return files | {
        file: plan_drawing(house, level, done.plan).svg() + "\n" for level, file in svg_files.items()
    }
