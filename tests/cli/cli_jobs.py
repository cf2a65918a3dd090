"""Running the command line inside a test, and a solver that stands in for the search."""

from __future__ import annotations

import shutil
import sys
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

import pytest

from packseq.baseline import by_nearest
from packseq.cli import main
from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.scenario.model import StandChoices
from packseq.standup.progress import Listener

SCENARIOS = Path(__file__).parents[2] / "scenarios"
GARDEN = SCENARIOS / "garden-room"


@dataclass(frozen=True)
class Answer:
    """What a command left behind."""

    exit_code: int
    out: str
    err: str


def run(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> Answer:
    """Run a command as the process would, and return its exit code and what it said."""
    with pytest.raises(SystemExit) as left:
        main([str(argument) for argument in arguments])
    said = capsys.readouterr()
    assert isinstance(left.value.code, int)
    return Answer(left.value.code, said.out, said.err)


def garden_with(parent: Path, changed: Mapping[str, bytes | None]) -> Path:
    """Return a copy of the garden room with files replaced, or left out where None."""
    folder = parent / "job"
    shutil.copytree(GARDEN, folder)
    for name, content in changed.items():
        if content is None:
            (folder / name).unlink()
        else:
            (folder / name).write_bytes(content)
    return folder


Solver = Callable[[House, Listener, threading.Event], Plan]


def nearest(house: House, _listener: Listener, _stop: threading.Event) -> Plan:
    """Solve by taking what lies nearest, as the unplanned crew does."""
    plan = by_nearest(house).plan
    assert plan is not None
    return plan


@dataclass(frozen=True)
class Asked:
    """What the search was asked for."""

    limit_s: float
    seed: int
    stand: StandChoices


def stand_in(monkeypatch: pytest.MonkeyPatch, solver: Solver = nearest) -> list[Asked]:
    """Put a solver in the place of the search; the list fills with what it is asked for."""
    asked: list[Asked] = []

    def plan_standup(
        house: House, *, limit_s: float, seed: int, listener: Listener, stop: threading.Event
    ) -> Plan:
        asked.append(Asked(limit_s, seed, house.scenario.stand))
        return solver(house, listener, stop)

    module = ModuleType("packseq.standup.search")
    vars(module)["plan_standup"] = plan_standup
    monkeypatch.setitem(sys.modules, "packseq.standup.search", module)
    return asked
