"""The command as a process of its own: exit codes, streams and consoles."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from cli_jobs import GARDEN, SCENARIOS, garden_with

from packseq import __version__
from packseq.plan.file import read_plan


def packseq(*arguments: str | Path, encoding: str = "utf-8") -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "packseq", *map(str, arguments)],
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"},
    )


def test_version_and_help() -> None:
    version = packseq("--version")
    assert (version.returncode, version.stdout.split()) == (0, [b"packseq", __version__.encode()])
    helped = packseq("--help")
    assert helped.returncode == 0
    # Each command's line is short enough to be shown whole.
    assert b"..." not in helped.stdout.partition(b"Commands:")[2]
    for command in (b"check", b"plan", b"verify"):
        assert command in helped.stdout


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("check",),
        ("nonsense",),
        ("check", GARDEN, "--nonsense"),
        ("plan", GARDEN, "--lap", "sideways"),
        ("plan", GARDEN, "--limit", "0"),
        ("plan", GARDEN, "--limit", "nan"),
        ("plan", GARDEN, "--limit", "soon"),
        ("plan", GARDEN, "--seed", "-1"),
        ("verify", GARDEN),
    ],
    ids=lambda arguments: (
        " ".join(str(argument) for argument in arguments if argument != GARDEN) or "nothing"
    ),
)
def test_wrong_usage_is_code_2(arguments: tuple[str | Path, ...]) -> None:
    done = packseq(*arguments)
    assert (done.returncode, done.stdout) == (2, b"")
    assert b"Usage: packseq" in done.stderr
    assert b"Traceback" not in done.stderr


def test_each_code_reaches_the_shell(tmp_path: Path) -> None:
    assert packseq("check", GARDEN).returncode == 0
    assert packseq("check", tmp_path / "nowhere").returncode == 1
    plan = tmp_path / "plan.json"
    plan.write_text(
        json.dumps(
            {
                "format": 1, "scenario": "garden-room", "scenario_sha256": "", "status": "none",
                "direction": None, "reference": [], "held_open": [], "places": {},
                "stages": [], "spots": [], "moves": [],
            }
        ),
        encoding="utf-8",
    )  # fmt: skip
    failed = packseq("verify", GARDEN, plan)
    assert failed.returncode == 3
    assert b"never stood: E1, E2, E3, E4, E5 and 3 more" in failed.stdout


@pytest.mark.parametrize("encoding", ["cp1252", "ascii"])
def test_no_console_is_too_poor_for_a_name(tmp_path: Path, encoding: str) -> None:
    # Not even cp1252 has the first letter of the name.
    changed = {
        name: (GARDEN / name).read_bytes().replace(b"E1", "\u0416\u00e9".encode())
        for name in ("frames.csv", "openings.csv", "packs.csv")
    }
    folder = garden_with(tmp_path, changed)
    shown = packseq("check", folder, encoding=encoding)
    assert (shown.returncode, shown.stderr) == (0, b"")
    assert b"\\u0416" in shown.stdout
    said = json.loads(packseq("check", folder, "--json", encoding=encoding).stdout)
    assert said["frames"][0]["frame"] == "\u0416\u00e9"


def test_no_console_is_too_poor_for_a_path(tmp_path: Path) -> None:
    done = packseq("check", tmp_path / "\u0416", encoding="ascii")
    assert done.returncode == 1
    assert b"\\u0416: there is no such folder" in done.stderr


INTERRUPTED = """
import signal, sys, threading
from packseq.standup import search

whole = search.plan_standup

def plan_standup(*arguments, **options):
    threading.Timer(2.0, signal.raise_signal, [signal.SIGINT]).start()
    return whole(*arguments, **options)

search.plan_standup = plan_standup

from packseq.cli import main
main(sys.argv[1:])
"""


def test_ctrl_c_in_the_real_search_keeps_the_best_plan(tmp_path: Path) -> None:
    out = tmp_path / "plan.json"
    done = subprocess.run(
        [sys.executable, "-c", INTERRUPTED, "plan", SCENARIOS / "l-shaped", "--out", out, "--limit", "120"],
        capture_output=True,
        check=False,
        timeout=60,
    )
    assert (done.returncode, b"The search was stopped" in done.stdout) == (0, True), done.stderr
    assert read_plan(out).scenario == "l-shaped"


def test_the_same_question_has_the_same_answer() -> None:
    assert packseq("check", GARDEN).stdout == packseq("check", GARDEN).stdout
