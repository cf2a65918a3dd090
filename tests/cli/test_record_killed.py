"""A process that notes one thing after another, killed at different moments: what it said stays noted."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

from cli_jobs import GARDEN

from packseq.cli.choices import read_house
from packseq.day.events import CrewNow
from packseq.day.journal import Journal, read_journal
from packseq.day.names import names_of

NOTING = """
from itertools import count
import sys
from packseq.cli.app import app
folder, journal, first = sys.argv[1:]
for people in count(int(first)):
    words = ["record", folder, "crew", str(people), "--journal", journal]
    app(words, standalone_mode=False)
"""
"""Runs the command itself over and over: the crew is 1, 2, 3... people, so that each line is told apart."""

KILLED_AFTER = ((1, 0.0), (4, 0.004), (8, 0.011))
"""Records answered in each run, and seconds more, until it is killed: so at different points of a record."""


def killed(journal: Path, first: int, answers: int, wait_s: float) -> int:
    """Note from `first` people on, kill the process on the way, and return how many records it answered."""
    command = [sys.executable, "-u", "-c", NOTING, str(GARDEN), str(journal), str(first)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, encoding="utf-8") as process:
        assert process.stdout is not None
        said = []
        for line in process.stdout:
            said.append(line)
            if sum(map(is_answer, said)) == answers:
                break
        time.sleep(wait_s)
        process.kill()
        said.append(process.stdout.read())
        assert process.wait() != 0
    return sum(map(is_answer, "".join(said).splitlines()))


def is_answer(line: str) -> bool:
    return line.startswith("Noted: ")


def test_a_record_answered_is_never_lost_whenever_the_process_is_killed(tmp_path: Path) -> None:
    file = tmp_path / "day.jsonl"
    names = names_of(read_house(GARDEN), None)
    noted, torn = 0, 0
    for answers, wait_s in KILLED_AFTER:
        answered = killed(file, noted + 1, answers, wait_s)
        assert answered >= answers
        journal = read_journal(file, names)
        assert people(journal) == list(range(1, len(people(journal)) + 1))
        # The one record that was under way may be noted, torn, or not begun.
        assert noted + answered <= len(people(journal)) <= noted + answered + 1
        # Only what earlier kills tore is told as a fault by now; a line torn just now is told as torn.
        assert len(journal.faults) == torn
        assert journal.torn == (not file.read_bytes().endswith(b"\n"))
        noted, torn = len(people(journal)), torn + journal.torn


def people(journal: Journal) -> list[int]:
    return [noted.event.people for noted in journal.lines if isinstance(noted.event, CrewNow)]
