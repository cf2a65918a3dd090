"""packseq new, import and convert, and a house entered by rows and planned."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import ifcopenshell
import pytest
from cli_jobs import GARDEN, SCENARIOS, run
from typer.testing import CliRunner

from packseq.cli.app import app

BOXES = (
    # name, x from and to, y from and to: a house 6000 x 4000 of 90 mm walls and one wall inside.
    ("South", (0.0, 6000.0), (0.0, 90.0)),
    ("East", (5910.0, 6000.0), (90.0, 3910.0)),
    ("North", (0.0, 6000.0), (3910.0, 4000.0)),
    ("West", (0.0, 90.0), (90.0, 3910.0)),
    ("Inside", (2000.0, 2090.0), (90.0, 3910.0)),
)


Boxes = tuple[tuple[str, tuple[float, float], tuple[float, float]], ...]


def model_of_boxes(path: Path, boxes: Boxes = BOXES) -> Path:
    """Write a model whose walls are plain boxes without an axis."""
    model = ifcopenshell.file(schema="IFC4")
    length = model.createIfcSIUnit(None, "LENGTHUNIT", "MILLI", "METRE")
    origin = model.createIfcAxis2Placement3D(model.createIfcCartesianPoint((0.0, 0.0, 0.0)))
    context = model.createIfcGeometricRepresentationContext(None, "Model", 3, 1e-5, origin)
    project = model.createIfcProject(
        ifcopenshell.guid.new(), None, "boxes", None, None, None, None, [context]
    )
    project.UnitsInContext = model.createIfcUnitAssignment([length])
    for name, x, y in boxes:
        corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1]), (x[0], y[0])]
        outline = model.createIfcPolyline([model.createIfcCartesianPoint(corner) for corner in corners])
        profile = model.createIfcArbitraryClosedProfileDef("AREA", None, outline)
        solid = model.createIfcExtrudedAreaSolid(
            profile, origin, model.createIfcDirection((0.0, 0.0, 1.0)), 2400.0
        )
        shape = model.createIfcShapeRepresentation(context, "Body", "SweptSolid", [solid])
        wall = model.createIfcWall(ifcopenshell.guid.new(), None, name)
        wall.ObjectPlacement = model.createIfcLocalPlacement(None, origin)
        wall.Representation = model.createIfcProductDefinitionShape(None, None, [shape])
    model.write(str(path))
    return path


# The fewest fields: six columns, one row a frame, 18 cells for six frames beyond their names.
FEWEST = """\
frame,heading,length_mm,from,at_mm,to,through,height_mm,thickness_mm
E1,E,6000,,,,east-west,2400,90
E2,N,3820,,,,,,
E3,W,6000,,,,,,
E4,S,3820,,,,,,
N1,N,,E1,2000,E3,,,
N2,E,,N1,1500,E2,,,
"""


def test_a_house_entered_by_rows_in_the_fewest_fields_is_planned(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    job = tmp_path / "job"
    made = run(capsys, "new", job, "--no-ask", "--slab", "6000x4000", "--packs", "1")
    assert made.exit_code == 0
    (job / "layout.csv").write_text(FEWEST, encoding="utf-8")
    (job / "packs.csv").write_text(
        "pack,layer,frame\nA,1,N2\nA,2,N1\nA,3,E4\nA,4,E3\nA,5,E2\nA,6,E1\n", encoding="utf-8"
    )
    checked = run(capsys, "check", job)
    assert checked.exit_code == 0
    assert "6 frames on 1 level, 4 external and 2 internal, in 1 pack" in checked.out
    planned = run(capsys, "plan", job, "--out", tmp_path / "plan.json", "--limit", "20")
    assert planned.exit_code == 0
    plan = json.loads((tmp_path / "plan.json").read_text(encoding="utf-8"))
    stood = [move["frame"] for move in plan["moves"] if move["do"] == "stand"]
    assert sorted(stood) == ["E1", "E2", "E3", "E4", "N1", "N2"]
    # The south wall is as long as the north one and has the smaller y: it is the reference wall.
    assert stood[0] == "E1"
    assert run(capsys, "verify", job, tmp_path / "plan.json").exit_code == 0


def test_a_fault_of_the_house_names_the_row_that_was_typed(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    job = tmp_path / "job"
    run(capsys, "new", job, "--no-ask", "--packs", "1")
    # N2 lies across N1: only the geometry of both shows it.
    layout = FEWEST.replace("N2,E,,N1,1500,E2", "N2,E,1500,E4,1500,")
    (job / "layout.csv").write_text(layout.replace("1500,E4", "2200,E4"), encoding="utf-8")
    (job / "packs.csv").write_text(
        "pack,layer,frame\n" + "".join(f"A,1,{name}\n" for name in ("E1", "E2", "E3", "E4", "N1", "N2")),
        encoding="utf-8",
    )
    answer = run(capsys, "check", job)
    assert answer.exit_code == 1
    assert "layout.csv, row 7, frame N2: N2 overlaps N1 (row 6): 90 x 90 mm" in answer.err


def test_a_new_folder_has_a_sound_site_file_and_tables_to_fill_in(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    job = tmp_path / "job"
    said = ("--name", 'The "new" one', "--slab", "9000x7000", "--people", "3", "--packs", "2")
    answer = run(capsys, "new", job, *said, "--no-ask")
    assert answer.exit_code == 0
    assert sorted(file.name for file in job.iterdir()) == [
        "HOW-TO.md",
        "layout.csv",
        "openings.csv",
        "packs.csv",
        "site.toml",
    ]
    # Nothing is wrong but that the tables are empty.
    assert run(capsys, "check", job).err.splitlines() == [
        "layout.csv: has no rows below its header",
        "packs.csv: has no rows below its header",
    ]
    before = (job / "site.toml").read_bytes()
    assert b'name = "The \\"new\\" one"' in before
    assert b"[9000, 7000]" in before
    again = run(capsys, "new", job, "--no-ask")
    assert (again.exit_code, (job / "site.toml").read_bytes()) == (1, before)
    assert run(capsys, "new", job, "--no-ask", "--force").exit_code == 0


def test_new_asks_what_was_not_said_and_asks_again(tmp_path: Path) -> None:
    job = tmp_path / "job"
    answers = "Hill Road\n15 by 8\n15000 x 8400\n3\nmany\n2\n"
    result = CliRunner().invoke(app, ["new", str(job), "--ask"], input=answers)
    assert result.exit_code == 0, result.output
    assert result.output.count("How big is the slab") == 2
    site = (job / "site.toml").read_text(encoding="utf-8")
    assert 'name = "Hill Road"' in site
    assert "[15000, 8400]" in site
    assert "people = 3" in site
    assert site.count("[[pack]]") == 2


def test_new_asks_nothing_when_all_is_said(tmp_path: Path) -> None:
    said = ["--name", "x", "--slab", "9000x7000", "--people", "3", "--packs", "2", "--ask"]
    result = CliRunner().invoke(app, ["new", str(tmp_path / "job"), *said], input="")
    assert result.exit_code == 0, result.output
    assert "?" not in result.output


@pytest.mark.parametrize(
    ("option", "value"), [("--slab", "9x7"), ("--people", "0"), ("--packs", "101"), ("--name", " ")]
)
def test_new_refuses_what_makes_no_sense(
    option: str, value: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert run(capsys, "new", tmp_path / "job", "--no-ask", option, value).exit_code == 2
    assert not (tmp_path / "job").exists()


def test_a_new_workbook_has_the_same_tables(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    job = tmp_path / "job"
    assert run(capsys, "new", job, "--no-ask", "--workbook", "--coordinates").exit_code == 0
    assert sorted(file.name for file in job.iterdir()) == ["HOW-TO.md", "site.toml", "tables.xlsx"]
    assert "tables.xlsx, sheet frames: has no rows below its header" in run(capsys, "check", job).err


def test_a_table_is_never_told_twice(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    job = tmp_path / "job"
    run(capsys, "new", job, "--no-ask")
    answer = run(capsys, "new", job, "--no-ask", "--workbook", "--force")
    assert answer.exit_code == 1
    assert "has layout.csv, openings.csv, packs.csv, which would tell the same twice" in answer.err
    assert not (job / "tables.xlsx").exists()


def test_a_model_is_imported_checked_and_planned(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    model = model_of_boxes(tmp_path / "boxes.ifc")
    job = tmp_path / "job"
    answer = run(capsys, "import", model, "--out", job, "--max-frame-mm", "3600")
    assert answer.exit_code == 0
    assert "Walls: 5, 5 taken" in answer.out
    assert "Packs: 1, invented" in answer.out
    assert answer.err.endswith("It reads without fault.\n")
    frames = (job / "frames.csv").read_text(encoding="utf-8").splitlines()
    # 6000 long walls come in two, 3820 long ones too: 10 frames.
    assert len(frames) == 1 + 10
    assert "South" in (job / "IMPORT.md").read_text(encoding="utf-8")
    assert run(capsys, "check", job).exit_code == 0
    assert run(capsys, "plan", job, "--limit", "20").exit_code == 0
    kept = run(capsys, "import", model, "--out", job)
    assert kept.exit_code == 1
    assert "kept" in kept.err


def test_an_import_that_check_refuses_is_written_told_and_answered_with_1(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    # One more wall, that stands 140 mm short of the north wall's face (3910) and touches nothing.
    adrift = ("Adrift", (4000.0, 4090.0), (2000.0, 3770.0))
    model = model_of_boxes(tmp_path / "boxes.ifc", (*BOXES, adrift))
    job = tmp_path / "job"
    answer = run(capsys, "import", model, "--out", job, "--max-frame-mm", "6000")
    assert answer.exit_code == 1
    fault = (
        "frames.csv, row 7, frame W6: W6 touches no other frame of level 1; W6 and W3 miss each other by "
        "140 mm; is W6 1,910 rather than 1,770 (y2_mm 3910)?"
    )
    assert answer.err.splitlines() == [
        f"The scenario is in {job}; the account of every wall is in IMPORT.md there.",
        "packseq check refuses it as it stands. To be mended in that folder first:",
        fault,
    ]
    assert "Walls: 6, 6 taken" in answer.out
    assert fault in (job / "IMPORT.md").read_text(encoding="utf-8")
    # It is what check itself says; and put right there, all is well.
    assert run(capsys, "check", job).err.splitlines() == [fault]
    frames = (job / "frames.csv").read_text(encoding="utf-8")
    (job / "frames.csv").write_text(frames.replace("4045,3770", "4045,3910"), encoding="utf-8")
    assert run(capsys, "check", job).exit_code == 0
    document = json.loads(run(capsys, "import", model, "--out", job, "--force", "--json").out)
    assert len(document["to_mend"]) == 1


def test_an_import_as_json(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    model = model_of_boxes(tmp_path / "boxes.ifc")
    document = json.loads(run(capsys, "import", model, "--out", tmp_path / "job", "--json").out)
    assert [wall["wall"] for wall in document["walls"]] == [name for name, _, _ in BOXES]
    assert document["to_mend"] == []


def test_a_model_that_cannot_be_read_leaves_nothing_behind(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    bad = tmp_path / "bad.ifc"
    bad.write_bytes(b"not a model")
    answer = run(capsys, "import", bad, "--out", tmp_path / "job")
    assert (answer.exit_code, answer.out) == (1, "")
    assert answer.err == "bad.ifc: is no IFC model: it does not begin with ISO-10303-21;\n"
    assert not (tmp_path / "job").exists()


def test_without_the_reader_of_models_one_line_says_what_to_install(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    model = model_of_boxes(tmp_path / "boxes.ifc")
    monkeypatch.setitem(sys.modules, "ifcopenshell", None)
    answer = run(capsys, "import", model, "--out", tmp_path / "job")
    assert answer.exit_code == 1
    assert answer.err == 'reading a building model needs one more package: pip install "packseq[ifc]"\n'


def test_without_the_writer_of_workbooks_one_line_says_what_to_install(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    answer = run(capsys, "convert", GARDEN, "--out", tmp_path / "tables.xlsx")
    assert answer.exit_code == 1
    assert answer.err == 'reading and writing .xlsx needs one more package: pip install "packseq[xlsx]"\n'
    assert not list(tmp_path.iterdir())


def test_a_scenario_is_converted_there_and_back(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    demo = SCENARIOS / "three-bedroom"
    answer = run(capsys, "convert", demo, "--out", tmp_path / "walk", "--to", "layout")
    assert answer.exit_code == 0
    assert "15,000 mm west to east and 8,400 mm south to north" in answer.out
    assert "N1, N20, N23" in answer.out
    assert (tmp_path / "walk" / "layout.csv").is_file()
    assert run(capsys, "convert", tmp_path / "walk", "--out", tmp_path / "back").exit_code == 0
    first = (demo / "frames.csv").read_text(encoding="utf-8")
    assert (tmp_path / "back" / "frames.csv").read_text(encoding="utf-8") == first
    as_json = run(capsys, "convert", demo, "--out", tmp_path / "tables.xlsx", "--json")
    assert json.loads(as_json.out)["frames"] == 38


def test_a_scenario_is_not_converted_on_to_itself(capsys: pytest.CaptureFixture[str]) -> None:
    before = sorted(file.name for file in GARDEN.iterdir())
    answer = run(capsys, "convert", GARDEN, "--out", GARDEN, "--to", "layout", "--force")
    assert answer.exit_code == 1
    assert "is the scenario itself" in answer.err
    beside = run(capsys, "convert", GARDEN, "--out", GARDEN / "tables.xlsx")
    assert beside.exit_code == 1
    assert sorted(file.name for file in GARDEN.iterdir()) == before
