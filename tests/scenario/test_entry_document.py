"""The examples in docs/entry.md are read as they stand."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from walks import THREE_BEDROOM, ends, read

from packseq.entry.howto import how_to
from packseq.scenario.walkround.rows import LAYOUT_SHAPE

DOCUMENT = (Path(__file__).parents[2] / "docs" / "entry.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```csv\n(frame,heading.*?)```", DOCUMENT, re.DOTALL)


def test_there_are_examples() -> None:
    assert len(EXAMPLES) == 2


@pytest.mark.parametrize("example", EXAMPLES)
def test_an_example_is_read_without_fault(example: str) -> None:
    assert read(example)[1] == []


def test_the_longer_example_is_the_demo() -> None:
    demo = ends(THREE_BEDROOM.read_text(encoding="utf-8"))
    shown = ends(EXAMPLES[1])
    assert shown == {name: demo[name] for name in shown}


def test_the_fault_shown_is_the_fault_told() -> None:
    sound = THREE_BEDROOM.read_text(encoding="utf-8")
    (line,) = read(sound.replace("E7,,3900", "E7,,3760"))[1]
    assert line in " ".join(DOCUMENT.split())


@pytest.mark.parametrize("column", LAYOUT_SHAPE.columns)
def test_every_column_is_explained(column: str) -> None:
    assert f"`{column}`" in DOCUMENT


def test_the_example_beside_a_new_job_is_read_without_fault() -> None:
    table = [line for line in how_to(by_coordinates=False, in_workbook=False).splitlines() if line[:1] == "|"]
    rows = [
        ",".join(cell.strip() for cell in line.strip("|").split("|")) for line in table if "---" not in line
    ]
    placed = ends("\n".join(rows) + "\n")
    # N1: 2000 to its near face, 45 more to its middle; between the faces at 90 and 3910.
    assert placed["N1"] == (2045, 90, 2045, 3910)
