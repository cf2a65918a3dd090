"""Walls of drawn models that are no frame, each refused with its reason."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from drawn_models import Drawing

from packseq.entry.ifc.read import read_storey


def why_refused(drawing: Drawing, folder: Path) -> str | None:
    (account,) = read_storey(drawing.saved(folder), None, 20_000).accounts
    return account.refused


def test_a_curved_wall_is_refused(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    outer = [(2000 * math.cos(angle), 2000 * math.sin(angle)) for angle in np.linspace(0, 1.5, 20)]
    inner = [(1900 * math.cos(angle), 1900 * math.sin(angle)) for angle in np.linspace(1.5, 0, 20)]
    solid = drawing.prism([*outer, *inner, outer[0]], 2400)
    wall = drawing.element("IfcWall", "round", storey.ObjectPlacement, solid)
    drawing.put(storey, wall)
    assert why_refused(drawing, tmp_path) == "it is curved, bent or branched on plan, not one straight wall"


def test_a_wall_whose_axis_bends_is_refused(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    solid = drawing.box((0, 3000), (-45, 45), 2400)
    axis = [(0.0, 0.0), (1500.0, 400.0), (3000.0, 0.0)]
    drawing.put(storey, drawing.element("IfcWall", "bent", storey.ObjectPlacement, solid, axis))
    assert why_refused(drawing, tmp_path) == "its axis is not straight"


def test_a_leaning_wall_is_refused(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    outline = [(0.0, 0.0), (3000.0, 0.0), (3000.0, 90.0), (0.0, 90.0), (0.0, 0.0)]
    solid = drawing.prism(outline, 2400, lean=0.1)
    drawing.put(storey, drawing.element("IfcWall", "leaning", storey.ObjectPlacement, solid))
    assert why_refused(drawing, tmp_path) == "it leans, or is not one thickness all the way up"


def test_a_wall_placed_askew_is_refused(tmp_path: Path) -> None:
    drawing = Drawing.begun()
    storey = drawing.storey("Ground")
    tilted = drawing.placement(storey.ObjectPlacement, (0, 0, 0), up=(0.0, 0.2, 1.0))
    drawing.put(storey, drawing.element("IfcWall", "askew", tilted, drawing.box((0, 3000), (0, 90), 2400)))
    assert why_refused(drawing, tmp_path) == "it leans"


@pytest.mark.parametrize(
    ("thickness_mm", "height_mm", "expected"),
    [
        (600, 2400, "it is 600 mm thick; walls from 20 to 500 are taken"),
        (90, 200, "it is 200 mm high; walls from 300 to 6000 are taken"),
    ],
)
def test_a_wall_of_a_size_that_no_frame_has(
    thickness_mm: float, height_mm: float, expected: str, tmp_path: Path
) -> None:
    drawing = Drawing.begun()
    drawing.wall(drawing.storey("Ground"), "odd", (0, 0), (3000, 0), (thickness_mm, height_mm))
    assert why_refused(drawing, tmp_path) == expected
