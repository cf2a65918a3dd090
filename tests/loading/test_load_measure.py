"""A pack's centre of gravity and reach against shapely and numpy."""

from __future__ import annotations

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from load_houses import SIX, pack, six

from packseq.check.loading import measured
from packseq.loading.assemble import balanced
from packseq.plan.load import as_laid, lying_in
from packseq.scenario.loadlimits import LoadLimits

TEXTS = (
    "N2 S2 S1 E1 N1 W1",
    "S2 E1 S1+N2 N1 W1",
    "S2+N2 S1 E1 N1 W1",
    "N2+S2 S1 E1+N1 W1",
    "N2+S1+S2 E1 N1 W1",
)


@settings(max_examples=40, deadline=None)
@given(
    text=st.sampled_from(TEXTS),
    masses=st.lists(st.integers(10, 300), min_size=6, max_size=6),
    gap_mm=st.sampled_from([0.0, 20.0, 35.0]),
)
def test_the_centre_of_gravity_against_shapely(text: str, masses: list[int], gap_mm: float) -> None:
    house = six(
        masses=dict(zip(SIX, map(float, masses), strict=True)), limits=LoadLimits(layer_gap_mm=gap_mm)
    )
    scenario = house.scenario
    laid = pack("A", text)
    centres, weights = [], []
    for layer in laid.layers:
        lying = lying_in(layer, scenario.frames, gap_mm)
        boxes = [
            shapely.box(
                each.along_mm - each.length_mm / 2,
                each.across_mm - each.width_mm / 2,
                each.along_mm + each.length_mm / 2,
                each.across_mm + each.width_mm / 2,
            )
            for each in lying
        ]
        centres += [box.centroid.coords[0] for box in boxes]
        weights += [each.frame.mass_kg for each in lying]
        # The row lies centred, and no frame over another.
        assert np.allclose(shapely.union_all(boxes).envelope.centroid.coords[0], (0, 0))
        assert np.isclose(shapely.union_all(boxes).area, sum(box.area for box in boxes))
    expected = np.average(np.array(centres), axis=0, weights=weights)
    assert np.allclose(measured(laid, scenario).centre_mm, expected)


def test_rows_are_turned_to_balance_the_pack() -> None:
    # Two rows of S1 (3000 mm) and a heavy short frame: turned alike they pull the same way, turned about they
    # even out: 3000 + 1000 and 2000 + ... only rows that pull are turned.
    house = six(masses={"N2": 200.0, "S2": 10.0})
    laid = pack("A", "E1 S1+N2 N1 W1 S2")
    off = abs(measured(laid, house.scenario).centre_mm[0])
    better = balanced(laid, house.scenario)
    assert abs(measured(better, house.scenario).centre_mm[0]) <= off
    assert [set(layer.frames) for layer in better.layers] == [set(layer.frames) for layer in laid.layers]


def test_a_layer_too_long_end_to_end_is_taken_to_lie_side_by_side() -> None:
    house = six(heights={"S1": 1200.0, "S2": 1200.0})
    scenario = house.scenario
    delivered = scenario.packs["A"]
    assert as_laid(delivered, scenario.frames, scenario.load).layers[0].side_by_side is False
    two = pack("A", "S1+S2 E1")
    from_file = as_laid(
        type(delivered)(
            "A", 1, delivered.places, 0, tuple(layer.frames for layer in two.layers), (1, 2), 4000.0, 2400.0
        ),
        scenario.frames,
        scenario.load,
    )
    # 3000 + 2000 is longer than 4000, 1200 + 1200 no wider than 2400.
    assert from_file.layers[0].side_by_side is True
