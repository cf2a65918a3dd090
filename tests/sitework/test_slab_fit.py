from __future__ import annotations

from random import Random

import numpy as np
import pytest
from sitework_houses import butted_box, demo, drawn, slab_of

from packseq.geometry import Point
from packseq.house.model import House
from packseq.sitework.slab.build import base_of
from packseq.sitework.slab.edgewords import EdgeChoices, edge_ends
from packseq.sitework.slab.fit import best_fit
from packseq.sitework.slab.model import Fit
from packseq.sitework.slabedges import corners_at

BOX = drawn(butted_box(9000, 6000), slab_of(9000, 6000))


def fitted(house: House, corners: dict[str, Point]) -> Fit:
    base = base_of(house)
    return best_fit(base.at_edges, corners, base.reference)


def worst_at(house: House, corners: dict[str, Point], shift: Point) -> float:
    """The worst difference at a shift, straight from its meaning: distances of face ends to edge lines."""
    worst = 0.0
    for each in base_of(house).at_edges:
        for (x, y), drawn_mm in zip(each.wall.face(left=False), each.drawn_mm, strict=True):
            a, b = (np.array(corners[name]) for name in each.edge.corners)
            along = (b - a) / np.linalg.norm(b - a)
            out = np.array([along[1], -along[0]])
            over = float((np.array([x, y]) + np.array(shift) - a) @ out)
            worst = max(worst, abs(over - drawn_mm))
    return worst


def test_a_slab_as_drawn_leaves_everything_where_it_is() -> None:
    fit = fitted(BOX, corners_at(BOX.scenario.slab))
    assert (fit.along_mm, fit.inward_mm, fit.worst_mm) == pytest.approx((0.0, 0.0, 0.0), abs=1e-6)
    assert {end.to_do for end in edge_ends(fit, EdgeChoices())} == {"stand it so"}


def test_a_slab_too_long_and_too_deep_is_shared_by_both_ends() -> None:
    # 12 longer and 6 deeper than drawn: 6 short at each end, 3 at front and back.
    fit = fitted(BOX, {"C1": (0.0, 0.0), "C2": (9012.0, 0.0), "C3": (9012.0, 6006.0), "C4": (0.0, 6006.0)})
    assert (fit.along_mm, fit.inward_mm, fit.worst_mm) == pytest.approx((6.0, 3.0, 6.0))
    over = {each.at_edge.wall.name: each.over_mm for each in fit.walls}
    assert over["west wall"] == pytest.approx((-6.0, -6.0))
    # North and south do not decide the worst, and are shared out all the same.
    assert over["north wall"] == pytest.approx((-3.0, -3.0))
    assert over["south wall"] == pytest.approx((-3.0, -3.0))


def test_the_line_of_a_wall_that_stands_back_lies_further_in() -> None:
    fit = fitted(BOX, {"C1": (0.0, 0.0), "C2": (9012.0, 0.0), "C3": (9012.0, 6000.0), "C4": (0.0, 6000.0)})
    west = [end for end in edge_ends(fit, EdgeChoices(offset_mm=100.0)) if end.wall == "west wall"]
    # 90 thick, line 100 off the inner face, 6 back from the edge: 90 + 100 + 6 in.
    assert [end.line_mm for end in west] == pytest.approx([196.0, 196.0])
    assert all(end.to_do.startswith("6 mm further back") for end in west)


@pytest.mark.parametrize("name", ["three-bedroom", "l-shaped"])
@pytest.mark.parametrize("seed", range(4))
def test_no_other_shift_is_better(name: str, seed: int) -> None:
    """Against a fine grid of shifts about the answer, and against random ones."""
    house = demo(name)
    dice = Random(seed)
    base = base_of(house).corners
    corners = {
        corner: (x + dice.uniform(-12, 12), y + dice.uniform(-12, 12))
        for corner, (x, y) in corners_at(house.scenario.slab).items()
    }
    # The measured slab is laid on the drawing by its base: first corner and direction.
    at = corners_at(house.scenario.slab)
    corners[base[0]] = at[base[0]]
    corners[base[1]] = (corners[base[1]][0], at[base[1]][1])
    fit = fitted(house, corners)
    reference = base_of(house).reference
    shift = np.array(reference.along) * fit.along_mm + np.array(reference.left) * fit.inward_mm
    best = (float(shift[0]), float(shift[1]))
    assert worst_at(house, corners, best) == pytest.approx(fit.worst_mm)
    tried = [
        (best[0] + east, best[1] + north) for east in np.linspace(-3, 3, 9) for north in np.linspace(-3, 3, 9)
    ]
    tried += [(dice.uniform(-30, 30), dice.uniform(-30, 30)) for _ in range(60)]
    assert min(worst_at(house, corners, shifted) for shifted in tried) >= fit.worst_mm - 1e-9


def test_the_reference_wall_stays_parallel_to_its_edge() -> None:
    house = demo("three-bedroom")
    corners = dict(corners_at(house.scenario.slab))
    corners["C1"] = (9.0, -7.0)
    fit = fitted(house, corners)
    north = next(each for each in fit.walls if each.at_edge.wall.name == "north wall")
    assert north.over_mm[0] == pytest.approx(north.over_mm[1])


def test_overhang_that_is_drawn_is_aimed_at() -> None:
    # The slab is drawn 8 mm short all round: faces 8 over. As measured it is just that: nothing moves.
    slab = ((8.0, 8.0), (8992.0, 8.0), (8992.0, 5992.0), (8.0, 5992.0))
    house = drawn(butted_box(9000, 6000), slab)
    fit = fitted(house, corners_at(slab))
    assert fit.worst_mm == pytest.approx(0.0, abs=1e-6)
    assert all(each.over_mm == pytest.approx((8.0, 8.0)) for each in fit.walls)


def test_a_clockwise_outline_makes_no_difference() -> None:
    slab = slab_of(9000, 6000)
    turned = drawn(butted_box(9000, 6000), (slab[0], slab[3], slab[2], slab[1]))
    assert base_of(turned).corners == ("C1", "C4")
    fit = fitted(turned, corners_at(turned.scenario.slab))
    assert fit.worst_mm == pytest.approx(0.0, abs=1e-6)
