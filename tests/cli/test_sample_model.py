"""The open sample house, where it lies beside the checkout, from model to crew's page."""

from __future__ import annotations

from pathlib import Path

import pytest
from cli_jobs import run


def sample_house() -> Path:
    for parent in Path(__file__).resolve().parents:
        found = parent / "shared" / "data" / "ifc" / "Ifc4_SampleHouse.ifc"
        if found.is_file():
            return found
    pytest.skip("the sample house is not here")


def test_the_sample_house_goes_from_model_to_page(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    job, plan = tmp_path / "job", tmp_path / "plan.json"
    steps: tuple[tuple[str | Path, ...], ...] = (
        ("import", sample_house(), "--out", job, "--storey", "Ground Floor", "--max-frame-mm", "3600"),
        ("check", job),
        ("plan", job, "--out", plan, "--limit", "10"),
        ("verify", job, plan),
        ("page", job, plan, "--out", tmp_path / "crew.html"),
    )
    for step in steps:
        assert run(capsys, *step).exit_code == 0, step[0]
    assert (tmp_path / "crew.html").is_file()
