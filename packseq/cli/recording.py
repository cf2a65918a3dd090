"""``packseq record``."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from packseq.cli.dayfiles import read_day
from packseq.cli.noting import Asked
from packseq.cli.streams import write_json, write_report
from packseq.cli.writing import refuse_early
from packseq.day.events import Begun, Event, Undone
from packseq.day.follow import follow
from packseq.day.journal import Journal, append, counting, name_fault_of, read_journal, taken_back
from packseq.day.names import Names
from packseq.day.nextmove import next_move
from packseq.day.present import present_state
from packseq.errors import Fault, InputError
from packseq.report.recorded import recorded_document, recorded_event


@dataclass(frozen=True, slots=True)
class RecordJob:
    """What to note, where, and the plan that is worked by."""

    folder: Path
    journal: Path
    plan_file: Path | None
    asked: Asked


def record_event(job: RecordJob, *, as_json: bool) -> None:
    """Add a line to the journal, and show what follows from it.

    Raises
    ------
    InputError
        When something is wrong with scenario, plan or journal, or a name is not known, or there is
        nothing to take back: then nothing is added.
    OutputError
        When the journal cannot be written.
    """
    day = read_day(job.folder, job.journal, job.plan_file)
    at = datetime.now().astimezone().isoformat(timespec="seconds")
    event = job.asked.event(day.names, at)
    wrong = _wrong(event, day.names, day.journal)
    if wrong is not None:
        raise InputError([Fault("record", f"{wrong}; nothing was noted")])
    refuse_early(job.journal, job.folder, force=True)
    if not day.journal.begun:
        append(job.journal, Begun(at=at, scenario=day.names.scenario, scenario_sha256=day.names.sha256))
    append(job.journal, event)
    before = present_state(day.house, day.names, day.plan, day.journal.lines)
    lines = read_journal(job.journal, day.names).lines
    now = present_state(day.house, day.names, day.plan, lines)
    remarks = [remark for remark in now.remarks if remark not in before.remarks]
    following = None if day.plan is None else next_move(now, day.plan, follow(day.plan, lines))
    if as_json:
        write_json(recorded_document(now, event, remarks, following))
    else:
        write_report(recorded_event(now, event, remarks, following, by_plan=day.plan is not None))


def _wrong(event: Event, names: Names, journal: Journal) -> str | None:
    if isinstance(event, Undone) and taken_back(counting(journal.lines), event) is None:
        return name_fault_of(event, names) or f"there is no {event.what} of it to take back"
    return name_fault_of(event, names)
