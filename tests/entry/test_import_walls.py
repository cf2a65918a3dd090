"""Walls and openings of drawn models, by hand and against the geometry engine."""

from __future__ import annotations

import math
from pathlib import Path

import ifcopenshell
import numpy as np
import pytest
from drawn_models import Drawing, Schema, engine_points, two_rooms

from packseq.entry.ifc.read import ModelStorey, read_storey
from packseq.entry.ifc.walls import ModelWall
from packseq.geometry import strip
from packseq.scenario.model import Opening


def read(drawing: Drawing, folder: Path, storey: str | None = None, most_mm: float = 20_000) -> ModelStorey:
    return read_storey(drawing.saved(folder), storey, most_mm)


def by_called(storey: ModelStorey) -> dict[str, ModelWall]:
    return {wall.called: wall for wall in storey.frames.values()}


@pytest.mark.parametrize("schema", ["IFC2X3", "IFC4"])
@pytest.mark.parametrize("unit", ["mm", "m", "foot"])
def test_two_rooms(schema: Schema, unit: str, tmp_path: Path) -> None:
    storey = read(two_rooms(schema, unit), tmp_path)
    walls = by_called(storey)
    assert {name: (wall.start, wall.end) for name, wall in walls.items()} == {
        "South": ((0, 45), (6000, 45)),
        "East": ((5955, 90), (5955, 3910)),
        "North": ((6000, 3955), (0, 3955)),
        "West": ((45, 3910), (45, 90)),
        "Inside": ((2500, 90), (2500, 3910)),
    }
    assert {wall.thickness_mm for wall in walls.values()} == {90, 70}
    assert {wall.height_mm for wall in walls.values()} == {2400}
    assert walls["South"].openings == (Opening("door", 700, 900, 0, 2030),)
    assert walls["North"].openings == (Opening("window", 1000, 1200, 900, 2030),)
    assert walls["Inside"].openings == (Opening("opening", 500, 800, 0, 2030),)
    assert [walls[name].location for name in ("South", "Inside")] == ["external", "internal"]
    assert storey.joins == ("The model and the geometry agree on which walls meet.",)
    assert storey.moved_by is None
    assert all(account.refused is None for account in storey.accounts)


@pytest.mark.parametrize("turned_deg", [0.0, 30.0, -117.5])
def test_a_turned_house_against_the_geometry_engine(turned_deg: float, tmp_path: Path) -> None:
    drawing = two_rooms(turned_deg=turned_deg)
    walls = by_called(read(drawing, tmp_path))
    for element in drawing.model.by_type("IfcWall"):
        wall = walls[element.Name]
        corners = engine_points(element)
        footprint = np.array(strip(wall.start, wall.end, wall.thickness_mm))
        for corner in footprint:
            assert np.min(np.linalg.norm(corners[:, :2] - corner, axis=1)) < 0.2
        assert np.ptp(corners[:, 2]) == pytest.approx(wall.height_mm, abs=0.1)
        for relation, opening in zip(element.HasOpenings, wall.openings, strict=True):
            hole = engine_points(relation.RelatedOpeningElement)
            along = (np.array(wall.end) - wall.start) / wall.length_mm
            places = (hole[:, :2] - wall.start) @ along
            assert places.min() == pytest.approx(opening.from_mm, abs=0.2)
            assert np.ptp(places) == pytest.approx(opening.width_mm, abs=0.2)
            assert hole[:, 2].min() == pytest.approx(opening.sill_mm, abs=0.1)
            assert hole[:, 2].max() == pytest.approx(opening.head_mm, abs=0.1)


def test_a_house_turned_by_thirty_degrees_by_hand(tmp_path: Path) -> None:
    wall = by_called(read(two_rooms(turned_deg=30.0), tmp_path))["South"]
    # (0, 45) turned by 30 degrees: x = -45 sin 30 = -22.5, y = 45 cos 30 = 39.0.
    assert wall.start == (-22.5, 39.0)
    # (6000, 45): x = 6000 cos 30 - 22.5 = 5173.7, y = 6000 sin 30 + 39.0 = 3039.0.
    assert wall.end == (5173.7, 3039.0)


def test_walls_whose_axes_meet_are_brought_to_butt(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    drawing.wall(storey, "long", (0, 0), (5000, 0), (100, 2400))
    drawing.wall(storey, "short", (5000, 0), (5000, 3000), (100, 2400))
    drawing.wall(storey, "stem", (2000, 0), (2000, 2000), (100, 2400))
    walls = by_called(read(drawing, tmp_path))
    # The longer runs through to the far face of the other; the other butts against its near face.
    assert (walls["long"].start, walls["long"].end) == ((0, 0), (5050, 0))
    assert (walls["short"].start, walls["short"].end) == ((5000, 50), (5000, 3000))
    assert (walls["stem"].start, walls["stem"].end) == ((2000, 50), (2000, 2000))


def test_openings_stay_where_they_are_when_a_wall_is_cut_back(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    drawing.wall(storey, "long", (0, 0), (5000, 0), (100, 2400))
    short = drawing.wall(storey, "short", (5000, 0), (5000, 3000), (100, 2400))
    drawing.hole(short, (1000, 800), (0, 2000), "IfcDoor")
    wall = by_called(read(drawing, tmp_path))["short"]
    assert wall.start == (5000, 50)
    assert wall.openings == (Opening("door", 950, 800, 0, 2000),)


def test_walls_that_cross(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    drawing.wall(storey, "long", (0, 0), (5000, 0), (100, 2400))
    drawing.wall(storey, "short", (2000, -1500), (2000, 1500), (100, 2400))
    read_model = read(drawing, tmp_path)
    pieces = [(wall.start, wall.end) for wall in read_model.frames.values() if wall.called == "short"]
    assert pieces == [((2000, -1500), (2000, -50)), ((2000, 50), (2000, 1500))]
    (account,) = [account for account in read_model.accounts if account.called == "short"]
    assert account.notes == ("crosses long: cut in two there",)


def test_a_wall_drawn_twice(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    drawing.wall(storey, "wall", (0, 0), (5000, 0))
    drawing.wall(storey, "again", (100, 0), (4000, 0))
    accounts = {account.called: account.refused for account in read(drawing, tmp_path).accounts}
    assert accounts == {"wall": None, "again": "it lies on wall"}


def test_joins_that_differ_are_told(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    first = drawing.wall(storey, "first", (0, 0), (5000, 0))
    apart = drawing.wall(storey, "apart", (2000, 300), (2000, 2000))
    drawing.wall(storey, "unsaid", (3000, 45), (3000, 2000))
    drawing.joined(first, apart)
    # 300 - 45 = 255 from the face of the one to the end of the other.
    assert read(drawing, tmp_path).joins == (
        "The model joins first and apart, but they stand 255 mm apart.",
        "first and unsaid touch, but the model does not join them.",
    )


def test_a_house_on_map_coordinates_is_moved_to_the_origin(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    drawing.wall(
        drawing.storey("Ground"),
        "far",
        (1_750_000_000.0, 5_400_000_000.0),
        (1_750_003_000.0, 5_400_000_000.0),
    )
    storey = read(drawing, tmp_path)
    assert storey.moved_by == (-1_750_000_000.0, -5_400_000_000.0)
    assert by_called(storey)["far"].end == (3000, 0)


def test_a_wall_of_several_materials_is_taken_whole_and_they_are_told(tmp_path: Path) -> None:
    drawing = two_rooms(unit="m")
    model = drawing.model
    (south, east) = [wall for wall in model.by_type("IfcWall") if wall.Name in {"South", "East"}]
    lining, studs = (model.create_entity("IfcMaterial", Name=name) for name in ("Plaster", "Timber"))
    layers = [
        model.createIfcMaterialLayer(lining, 0.0125),
        model.createIfcMaterialLayer(studs, 0.065),
        model.createIfcMaterialLayer(lining, 0.0125),
    ]
    for wall, material in (
        (
            south,
            model.createIfcMaterialLayerSetUsage(
                model.createIfcMaterialLayerSet(layers), "AXIS2", "POSITIVE", 0.0
            ),
        ),
        (east, studs),
    ):
        model.create_entity(
            "IfcRelAssociatesMaterial",
            GlobalId=ifcopenshell.guid.new(),
            RelatedObjects=[wall],
            RelatingMaterial=material,
        )
    storey = read(drawing, tmp_path)
    notes = {account.called: account.notes for account in storey.accounts}
    drawn = "12.5 mm Plaster + 65 mm Timber + 12.5 mm Plaster"
    assert notes["South"] == (f"drawn as {drawn}: taken as one frame of its whole thickness",)
    assert notes["East"] == ()
    assert by_called(storey)["South"].thickness_mm == 90


def test_a_raked_wall_is_taken_at_its_tallest(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    solid = drawing.box((0, 4000), (-45, 45), 5000)
    # A roof plane through (0, 2400) and (4000, 3400) seen from the side; what lies above it is cut off.
    slope = math.atan2(1000, 4000)
    plane = drawing.model.createIfcPlane(
        drawing.model.createIfcAxis2Placement3D(
            drawing.point((0, 0, 2400)),
            drawing.model.createIfcDirection((math.sin(slope), 0.0, -math.cos(slope))),
            drawing.model.createIfcDirection((math.cos(slope), 0.0, math.sin(slope))),
        )
    )
    cut = drawing.model.createIfcBooleanClippingResult(
        "DIFFERENCE", solid, drawing.model.createIfcHalfSpaceSolid(plane, True)
    )
    wall = drawing.element("IfcWall", "raked", storey.ObjectPlacement, cut, [(0, 0), (4000, 0)])
    drawing.put(storey, wall)
    storey_read = read(drawing, tmp_path)
    assert by_called(storey_read)["raked"].height_mm == 3400
    assert storey_read.accounts[0].notes == ("its top is not level (2400 to 3400 mm): taken at its tallest",)
    assert engine_points(wall)[:, 2].max() == pytest.approx(3400, abs=0.1)


def test_holes_that_are_no_openings(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    wall = drawing.wall(storey, "wall", (0, 0), (5000, 0))
    drawing.hole(wall, (500, 400), (900, 1500), across=(30.0, 60.0))
    drawing.hole(wall, (1500, 20), (900, 1500))
    drawing.hole(wall, (2000, 900), (0, 2000), "IfcDoor")
    drawing.hole(wall, (2600, 900), (0, 2000))
    drawing.hole(wall, (4000, 600), (300, 2000), "IfcDoor")
    read_model = read(drawing, tmp_path)
    # The second door stands 300 up: it is an opening, as a door has no sill.
    assert by_called(read_model)["wall"].openings == (
        Opening("opening", 2000, 1500, 0, 2000),
        Opening("opening", 4000, 600, 300, 2000),
    )
    assert read_model.accounts[0].notes == (
        "the opening hole is left out: it does not go through the wall",
        "the opening hole is left out: it is smaller than any opening that is framed",
        "two openings overlap along it: taken as one",
    )


def panel(drawing: Drawing, name: str, *, weighed: bool) -> None:
    """Stand a framed panel 3000 long: two plates and two studs of 90 x 45."""
    storey = drawing.storey("Ground")
    assembly = drawing.element("IfcElementAssembly", name, storey.ObjectPlacement, None)
    drawing.put(storey, assembly)
    boxes = [
        ((0, 3000), 45, 0),
        ((0, 3000), 45, 2355),
        ((0, 45), 2310, 45),
        ((2955, 3000), 2310, 45),
    ]
    members = []
    for x, height_mm, foot_mm in boxes:
        solid = drawing.box(x, (0, 90), height_mm, foot_mm)
        members.append(drawing.element("IfcMember", "timber", storey.ObjectPlacement, solid))
    drawing.parts(assembly, members)
    if weighed:
        for member in members:
            quantity = drawing.model.create_entity("IfcQuantityWeight", Name="GrossWeight", WeightValue=7.5)
            drawing.model.create_entity(
                "IfcRelDefinesByProperties",
                GlobalId=member.GlobalId[:-1] + "0",
                RelatedObjects=[member],
                RelatingPropertyDefinition=drawing.model.create_entity(
                    "IfcElementQuantity",
                    GlobalId=member.GlobalId[:-1] + "1",
                    Name="Qto_MemberBaseQuantities",
                    Quantities=[quantity],
                ),
            )


def test_a_framed_panel_is_kept_with_its_own_name_and_its_parts_mass(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    panel(drawing, "EW-07", weighed=True)
    storey = read(drawing, tmp_path, most_mm=1000)
    wall = storey.frames["EW-07"]
    assert (wall.start, wall.end) == ((0, 45), (3000, 45))
    assert (wall.thickness_mm, wall.height_mm) == (90, 2400)
    assert wall.mass_kg == 30  # 4 x 7.5


def test_a_panel_without_weights_weighs_its_timber(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    panel(drawing, "EW-07", weighed=False)
    # Two plates of 3000 and two studs of 2310, 90 x 45: 10.620 m x 0.00405 m2 x 500 kg/m3 = 21.5.
    assert read(drawing, tmp_path).frames["EW-07"].mass_kg == 21.5


def test_mapped_bodies_and_other_ways_of_drawing_a_box(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    model = drawing.model
    origin = model.createIfcAxis2Placement3D(drawing.point((0, 0, 0)))
    profile = model.createIfcRectangleProfileDef("AREA", None, None, 3000.0, 90.0)
    solid = model.createIfcExtrudedAreaSolid(
        profile, origin, model.createIfcDirection((0.0, 0.0, 1.0)), 2400.0
    )
    source = model.createIfcRepresentationMap(
        origin, model.createIfcShapeRepresentation(drawing.body, "Body", "SweptSolid", [solid])
    )
    target = model.createIfcCartesianTransformationOperator3D(
        None, None, drawing.point((1500, 45, 0)), 1.0, None
    )
    mapped = model.createIfcMappedItem(source, target)
    drawing.put(storey, drawing.element("IfcWall", "mapped", storey.ObjectPlacement, mapped))

    x, y, z = (0.0, 3000.0), (1000.0, 1090.0), (0.0, 2400.0)
    corners = [(a, b, c) for c in z for b in y for a in x]
    sides = [(1, 2, 4, 3), (5, 6, 8, 7), (1, 2, 6, 5), (3, 4, 8, 7), (1, 3, 7, 5), (2, 4, 8, 6)]
    points = model.createIfcCartesianPointList3D(corners)
    faces = model.createIfcPolygonalFaceSet(
        points, True, [model.createIfcIndexedPolygonalFace(list(side)) for side in sides], None
    )
    drawing.put(storey, drawing.element("IfcWall", "faces", storey.ObjectPlacement, faces))

    loops = [
        model.createIfcPolyLoop(
            [drawing.point((corners[i - 1][0], corners[i - 1][1] + 1000, corners[i - 1][2])) for i in side]
        )
        for side in sides
    ]
    brep = model.createIfcFacetedBrep(
        model.createIfcClosedShell(
            [model.createIfcFace([model.createIfcFaceOuterBound(loop, True)]) for loop in loops]
        )
    )
    drawing.put(storey, drawing.element("IfcWall", "brep", storey.ObjectPlacement, brep))
    walls = by_called(read(drawing, tmp_path))
    for name, y_mm in (("mapped", 45), ("faces", 1045), ("brep", 2045)):
        assert sorted((walls[name].start, walls[name].end)) == [(0, y_mm), (3000, y_mm)], name
        assert (walls[name].thickness_mm, walls[name].height_mm) == (90, 2400)


def test_what_is_cut_off_only_in_part_is_told(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    solid = drawing.box((0, 4000), (-45, 45), 2400)
    notch = drawing.box((0, 500), (-45, 45), 500)
    cut = drawing.model.createIfcBooleanResult("DIFFERENCE", solid, notch)
    drawing.put(
        storey, drawing.element("IfcWall", "notched", storey.ObjectPlacement, cut, [(0, 0), (4000, 0)])
    )
    storey_read = read(drawing, tmp_path)
    assert storey_read.accounts[0].notes == ("something is cut off its body that is not reckoned with",)
    assert by_called(storey_read)["notched"].length_mm == 4000


def test_a_hole_without_sound_figures_is_left_out(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    hole = drawing.hole(drawing.wall(storey, "wall", (0, 0), (5000, 0)), (500, 900), (0, 2000))
    hole.ObjectPlacement.RelativePlacement.Location.Coordinates = (1e300, 0.0, 0.0)
    storey_read = read(drawing, tmp_path)
    assert storey_read.accounts[0].notes == ("the opening hole is left out: its coordinates are absurd",)
