"""Models that cannot be read: one plain line, and nothing taken."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest
from drawn_models import Drawing, two_rooms

from packseq.entry.ifc import modelfile, solids, storeys
from packseq.entry.ifc.job import scenario_of
from packseq.entry.ifc.read import read_storey
from packseq.errors import InputError

HEAD = b"ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',(''),(''),'','','');\n"
TAIL = b"ENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n"


def refusal(path: Path, storey: str | None = None) -> str:
    with pytest.raises(InputError) as caught:
        scenario_of(read_storey(path, storey, 4800.0), path.name)
    (line,) = caught.value.lines
    return line


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"", "is empty"),
        (b"frame,level\n", "is no IFC model: it does not begin with ISO-10303-21;"),
        (b"PK\x03\x04" + b"\0" * 50, "is packed (a zip file); unpack it first"),
        (HEAD + TAIL, "does not say in which schema it is written"),
        (
            HEAD + b"FILE_SCHEMA(('IFC4X3_ADD2'));\n" + TAIL,
            "is written in the schema IFC4X3_ADD2; IFC2X3 and IFC4 are read: export it as one of these",
        ),
        (
            HEAD + b"FILE_SCHEMA(('AP214'));\n" + TAIL,
            "is written in the schema AP214; IFC2X3 and IFC4 are read: export it as one of these",
        ),
        (
            HEAD + b"FILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n#1=IFCPRO",
            "is cut short: its last line is missing",
        ),
        (HEAD + b"FILE_SCHEMA(('IFC4'));\n" + TAIL, "holds no project: the model is empty"),
    ],
)
def test_what_is_no_model(content: bytes, expected: str, tmp_path: Path) -> None:
    path = tmp_path / "bad.ifc"
    path.write_bytes(content)
    assert refusal(path) == f"bad.ifc: {expected}"


def test_a_model_that_is_not_there(tmp_path: Path) -> None:
    assert refusal(tmp_path / "none.ifc") == "none.ifc: there is no such file"


def test_a_folder_in_place_of_a_model(tmp_path: Path) -> None:
    assert "cannot be read" in refusal(tmp_path)


def test_a_huge_model_is_not_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = two_rooms().saved(tmp_path)
    monkeypatch.setattr(modelfile, "MOST_BYTES", 1000)
    assert refusal(path).endswith("bytes; at most 1,000 are read")


def test_a_storey_of_too_many_walls(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = two_rooms().saved(tmp_path)
    monkeypatch.setattr(storeys, "MOST_WALLS", 4)
    assert refusal(path) == "model.ifc: has 5 walls on the storey 'Ground'; at most 4 are read"


def test_walls_that_come_to_too_many_frames_are_refused_before_they_are_cut(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    for row in range(15):
        drawing.wall(storey, f"wall {row}", (0, row * 3000), (199_000, row * 3000))
    path = drawing.saved(tmp_path)
    # 199,000 in frames of 2400: 83 each, 1245.
    with pytest.raises(InputError, match="comes to 1245 frames at least; at most 1000 are planned"):
        read_storey(path, None, 2400.0)
    drawing.wall(storey, "one more", (0, -3000), (50_000, -3000))
    # 15 x 199 + 50 = 3035.
    assert refusal(drawing.saved(tmp_path)) == "model.ifc: has 3,035 m of wall; at most 3,000 m are read"


def test_a_body_that_is_copies_of_copies_of_copies_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(solids, "MOST_POLYGONS", 500)
    drawing = two_rooms()
    model = drawing.model
    (wall,) = [wall for wall in model.by_type("IfcWall") if wall.Name == "Inside"]
    body = wall.Representation.Representations[-1]
    origin = model.createIfcAxis2Placement3D(model.createIfcCartesianPoint((0.0, 0.0, 0.0)))
    items = list(body.Items)
    for _ in range(12):  # 8 to the 12th power bodies
        shape = model.createIfcShapeRepresentation(drawing.body, "Body", "MappedRepresentation", items)
        source = model.createIfcRepresentationMap(origin, shape)
        where = model.createIfcCartesianTransformationOperator3D(
            None, None, model.createIfcCartesianPoint((0.0, 0.0, 0.0)), 1.0, None
        )
        items = [model.createIfcMappedItem(source, where) for _ in range(8)]
    body.Items = items
    accounts = read_storey(drawing.saved(tmp_path), None, 4800.0).accounts
    (refused,) = [account.refused for account in accounts if account.refused]
    assert refused.endswith("faces, more than are read")


def test_a_model_without_walls(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    drawing.storey("Ground")
    assert refusal(drawing.saved(tmp_path)) == "model.ifc: has no walls"


def test_a_model_that_does_not_tell_its_unit(tmp_path: Path) -> None:
    drawing = two_rooms()
    (project,) = drawing.model.by_type("IfcProject")
    project.UnitsInContext = None
    for units in drawing.model.by_type("IfcUnitAssignment"):
        drawing.model.remove(units)
    assert refusal(drawing.saved(tmp_path)) == "model.ifc: does not say in which unit its lengths are"


def test_which_storey(tmp_path: Path) -> None:
    drawing = two_rooms()
    upper = drawing.storey("Upper", 2700.0)
    drawing.storey("Roof", 5400.0)
    drawing.wall(upper, "above", (0, 0), (3000, 0))
    path = drawing.saved(tmp_path)
    assert refusal(path) == (
        "model.ifc: has walls on several storeys; name one with --storey: "
        "'Ground' (5 walls), 'Upper' (1 walls)"
    )
    assert refusal(path, "Uper") == "model.ifc: has no storey named 'Uper'; did you mean 'Upper'?"
    assert refusal(path, "Roof") == (
        "model.ifc: has no walls on the storey 'Roof'; there are walls on 'Ground', 'Upper'"
    )
    (wall,) = read_storey(path, " upper ", 4800.0).frames.values()
    assert (wall.called, wall.foot_mm) == ("above", 2700)


def test_a_storey_none_of_whose_walls_can_be_taken(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    drawing.put(drawing.storey("Ground"), drawing.element("IfcWall", "hollow", None, None))
    assert refusal(drawing.saved(tmp_path)) == "model.ifc: hollow: it has no place in the model"


def test_a_wall_with_damaged_data_is_refused_and_the_others_taken(tmp_path: Path) -> None:
    path = two_rooms().saved(tmp_path)
    text = path.read_text(encoding="utf-8")
    axis = re.search(r"(#\d+)=IFCSHAPEREPRESENTATION\(#\d+,'Axis','Curve2D',\((#\d+)\)\);", text)
    assert axis is not None
    path.write_text(text.replace(f"{axis[2]}=IFCPOLYLINE((", f"{axis[2]}=IFCPOLYLINE((#1,"), encoding="utf-8")
    accounts = read_storey(path, None, 4800.0).accounts
    refused = [account for account in accounts if account.refused is not None]
    assert len(refused) == 1
    assert refused[0].refused is not None
    assert refused[0].refused.startswith("its data in the model are damaged")


@pytest.mark.parametrize("seed", range(60))
def test_a_spoilt_model_is_refused_or_read_but_never_breaks(seed: int, tmp_path: Path) -> None:
    path = two_rooms().saved(tmp_path)
    content = bytearray(path.read_bytes())
    chance = random.Random(seed)
    data = content.index(b"DATA;")
    if seed % 3 == 0:
        for _ in range(chance.choice([1, 5, 40])):
            content[chance.randrange(data, len(content) - 30)] = chance.randrange(32, 127)
    elif seed % 3 == 1:
        cut = chance.randrange(data, len(content))
        content[cut:] = b"\nENDSEC;\nEND-ISO-10303-21;\n"
    else:
        spans = [match.span() for match in re.finditer(rb"#\d+(?=[,)])", bytes(content))]
        numbers = re.findall(rb"^#(\d+)=", bytes(content), re.MULTILINE)
        for begin, end in sorted(chance.sample(spans, chance.choice([1, 3, 10])), reverse=True):
            content[begin:end] = b"#" + chance.choice(numbers)
    path.write_bytes(content)
    try:
        imported = scenario_of(read_storey(path, None, 4800.0), path.name)
    except InputError:
        return  # refused in plain words; anything else that is raised fails the test
    assert all(bool(account.frames) != bool(account.refused) for account in imported.accounts)
