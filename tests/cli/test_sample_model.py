"""The open sample house, where it lies beside the checkout, from model to crew's page."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from cli_jobs import run

ROOT = Path(__file__).parents[2]
SCRIPT = re.search(
    r"## From model to crew's page\n.*?```sh\n(.*?)```",
    (ROOT / "docs" / "entry.md").read_text(encoding="utf-8"),
    re.DOTALL,
)


def sample_house() -> Path:
    for parent in Path(__file__).resolve().parents:
        found = parent / "shared" / "data" / "ifc" / "Ifc4_SampleHouse.ifc"
        if found.is_file():
            return found
    pytest.skip("the sample house is not here")


def test_the_script_in_the_document_takes_the_sample_house_from_model_to_page(tmp_path: Path) -> None:
    model = sample_house()
    shell = shutil.which("sh")
    if shell is None:
        pytest.skip("there is no shell to run the script")
    assert SCRIPT is not None
    (tmp_path / model.name).write_bytes(model.read_bytes())
    command = f'packseq() {{ {shlex.quote(sys.executable)} -m packseq "$@"; }}\n'
    ran = subprocess.run(
        [shell, "-e", "-c", command + SCRIPT[1]],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    assert (tmp_path / "loaded" / "loading-sheet.html").is_file()
    assert (tmp_path / "crew.html").is_file()


def test_the_sample_house_as_imported_is_planned_and_verified(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    job, plan = tmp_path / "job", tmp_path / "plan.json"
    steps: tuple[tuple[str | Path, ...], ...] = (
        ("import", sample_house(), "--out", job, "--storey", "Ground Floor"),
        ("check", job),
        ("plan", job, "--out", plan, "--limit", "10"),
        ("verify", job, plan),
    )
    for step in steps:
        assert run(capsys, *step).exit_code == 0, step[0]
