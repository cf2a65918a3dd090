"""The open sample models, where they lie beside the checkout, against ifcopenshell's geometry engine.

Both are published by buildingSMART International as samples of IFC4: a house, and one elemented wall.
"""

from __future__ import annotations

import math
import time
from pathlib import Path

import ifcopenshell
import numpy as np
import pytest
from drawn_models import engine_points

from packseq.entry.ifc.job import scenario_of
from packseq.entry.ifc.read import read_storey
from packseq.geometry import strip


def sample(name: str) -> Path:
    """Return a sample model, looked for beside the checkout; the test is skipped where there is none."""
    for parent in Path(__file__).resolve().parents:
        for place in (parent / "data" / "ifc", parent / "shared" / "data" / "ifc"):
            if (place / name).is_file():
                return place / name
    pytest.skip("the sample models are not here")


def opened(path: Path) -> ifcopenshell.file:
    model = ifcopenshell.open(path)
    assert isinstance(model, ifcopenshell.file)
    return model


@pytest.mark.parametrize("name", ["Ifc4_SampleHouse.ifc", "Ifc4_WallElementedCase.ifc"])
def test_every_wall_is_accounted_for_in_ten_seconds(name: str) -> None:
    path = sample(name)
    began = time.monotonic()
    imported = scenario_of(read_storey(path, None, 4800.0), path.name)
    assert time.monotonic() - began < 10
    model = opened(path)
    walls = {wall.GlobalId for kind in ("IfcWall", "IfcCurtainWall") for wall in model.by_type(kind)}
    assert walls <= {account.global_id for account in imported.accounts}
    assert all(bool(account.frames) != bool(account.refused) for account in imported.accounts)
    assert imported.house is not None


def test_the_sample_house_against_the_geometry_engine() -> None:
    path = sample("Ifc4_SampleHouse.ifc")
    model = opened(path)
    storey = read_storey(path, "ground floor", 20_000)
    walls = {wall.key: wall for wall in storey.frames.values()}
    assert len(walls) == 5
    for key, wall in walls.items():
        element = model.by_id(key)
        corners = engine_points(element)
        footprint = np.array(strip(wall.start, wall.end, wall.thickness_mm))
        assert footprint.min(axis=0) == pytest.approx(corners[:, :2].min(axis=0), abs=0.2)
        assert footprint.max(axis=0) == pytest.approx(corners[:, :2].max(axis=0), abs=0.2)
        assert wall.height_mm == pytest.approx(np.ptp(corners[:, 2]), abs=0.2)
        along = (np.array(wall.end) - wall.start) / wall.length_mm
        holes = []
        for relation in element.HasOpenings:
            hole = engine_points(relation.RelatedOpeningElement)
            places = (hole[:, :2] - wall.start) @ along
            holes.append((places.min(), np.ptp(places), hole[:, 2].min(), hole[:, 2].max()))
        read = [(one.from_mm, one.width_mm, one.sill_mm, one.head_mm) for one in wall.openings]
        assert len(read) == len(holes)
        for mine, theirs in zip(sorted(read), sorted(holes), strict=True):
            assert mine == pytest.approx(theirs, abs=0.2)


def test_the_sample_house_s_own_quantities_agree() -> None:
    path = sample("Ifc4_SampleHouse.ifc")
    walls = {wall.key: wall for wall in read_storey(path, None, 20_000).frames.values()}
    # The two partitions carry BaseQuantities: Length 5510 and 4452.5, Width 95, Height 2335.
    partitions = sorted(
        (wall.length_mm, wall.thickness_mm, wall.height_mm)
        for wall in walls.values()
        if wall.location == "internal"
    )
    assert [size for sizes in partitions for size in sizes] == pytest.approx(
        [4452.5, 95, 2335, 5510, 95, 2335], abs=0.1
    )


def test_the_sample_house_s_own_materials_are_told() -> None:
    notes = [account.notes for account in read_storey(sample("Ifc4_SampleHouse.ifc"), None, 4800.0).accounts]
    told = {note for own in notes for note in own if note.startswith("drawn as")}
    # Three walls of brick and block, two partitions; the curtain walls are refused.
    assert len([note for own in notes for note in own if note.startswith("drawn as")]) == 5
    assert any("12.5 mm Plaster + 70 mm Metal Stud Layer + 12.5 mm Plaster" in note for note in told)


def test_the_sample_house_s_own_joins_agree() -> None:
    storey = read_storey(sample("Ifc4_SampleHouse.ifc"), None, 4800.0)
    # Its five walls meet as the model says; it also joins two of them to curtain walls, which are refused.
    assert len(storey.joins) == 2
    assert all(line.endswith("which is not taken.") for line in storey.joins)
    refused = [account.refused for account in storey.accounts if account.refused]
    assert refused == ["it is a curtain wall, not a framed wall"] * 2


def test_the_sample_house_is_cut_clear_of_its_openings() -> None:
    whole = {
        wall.key: wall for wall in read_storey(sample("Ifc4_SampleHouse.ifc"), None, 20_000).frames.values()
    }
    pieces = read_storey(sample("Ifc4_SampleHouse.ifc"), None, 2400.0).frames.values()
    assert all(piece.length_mm <= 2400.05 for piece in pieces)
    for key, wall in whole.items():
        own = [piece for piece in pieces if piece.key == key]
        assert math.fsum(piece.length_mm for piece in own) == pytest.approx(wall.length_mm, abs=0.5)
        assert sum(len(piece.openings) for piece in own) == len(wall.openings)


def test_the_elemented_wall_keeps_its_name_and_weighs_its_timber() -> None:
    path = sample("Ifc4_WallElementedCase.ifc")
    storey = read_storey(path, None, 2000.0)
    # A second framing assembly belongs to the type of the wall and stands nowhere.
    assert [account.called for account in storey.accounts] == ["Wall #1"]
    frame = storey.frames["Wall #1"]
    # 144 inches long, 4.5 thick (0.5 + 3.5 + 0.5), 120 high.
    assert frame.length_mm == pytest.approx(144 * 25.4)
    assert frame.thickness_mm == pytest.approx(4.5 * 25.4)
    assert frame.height_mm == pytest.approx(120 * 25.4)
    model = opened(path)
    heights = [
        engine_points(part)[:, 2]
        for part in model.by_type("IfcBuildingElementPart")
        if part.Representation is not None
    ]
    assert max(height.max() for height in heights) <= frame.height_mm + 0.5
