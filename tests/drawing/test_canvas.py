from __future__ import annotations

import xml.etree.ElementTree as ET
from math import dist

import pytest
from svg_reading import every, parsed, texts

from packseq.drawing.canvas import Bounds, Drawing, View, fitted
from packseq.drawing.dimensions import dimension, running_dimensions
from packseq.drawing.svg import Pen, area, element, words


def drawn(*parts: str) -> ET.Element:
    return parsed(Drawing(100, 50, "a drawing", parts).svg())


def test_a_metre_at_one_to_fifty_is_twenty_millimetres_of_paper() -> None:
    view = View(Bounds(0, 0, 6000, 4000), 50, (5, 7))
    # 1000 / 50 = 20; north is up, so the north edge (y 4000) is at the top, 7 mm down.
    assert view.on((1000, 4000)) == (25, 7)
    assert view.on((0, 0)) == (5, 7 + 80)
    assert dist(view.on((0, 0)), view.on((3000, 4000))) == pytest.approx(100)


@pytest.mark.parametrize(
    ("width", "one_to"),
    [
        (18000, 100),  # 18 m on 180 mm: 1:100 exactly
        (18001, 125),  # a millimetre more needs the next round scale
        (900, 5),
        (4_000_000, 25000),  # 4 km / 180 mm = 1:22222, the next round one is 1:25000
    ],
)
def test_the_scale_is_the_largest_round_one_that_fits(width: float, one_to: float) -> None:
    assert fitted(Bounds(0, 0, width, 10), 180, 100).one_to == one_to


def test_nothing_cannot_be_bounded() -> None:
    with pytest.raises(ValueError, match="nothing"):
        Bounds.around(())


def test_text_stays_text() -> None:
    hostile = "<img src=x onerror=alert(1)>&\"'\x00\x1b"
    root = drawn(words(hostile, (1, 1), 3), element("g", data_frame=hostile, class_="frame"))
    assert texts(root) == ["<img src=x onerror=alert(1)>&\"'\ufffd\ufffd"]
    assert [each.tag.rpartition("}")[2] for each in root] == ["title", "rect", "text", "g"]
    assert root[3].get("data-frame", "").startswith("<img src=x")


def test_a_shape_has_its_corners_to_a_hundredth_of_a_millimetre() -> None:
    root = drawn(area(((0, 0), (1 / 3, 2), (-0.001, 5)), Pen(0.2)))
    assert root[2].get("points") == "0,0 0.33,2 0,5"


def test_a_dimension_says_the_length_and_lies_on_the_side_asked_for() -> None:
    view = View(Bounds(0, 0, 6000, 4000), 100)
    root = drawn(dimension(view, (0, 0), (6000, 0), 5))
    assert texts(root) == ["6000"]
    # Right of the way east is south: 5 mm below the wall, which lies at 4000 / 100 = 40 mm.
    measured = next(every(root, "polyline")).get("points")
    assert measured == "0,45 60,45"


def test_running_dimensions_run_from_the_datum() -> None:
    view = View(Bounds(0, 0, 6000, 4000), 100)
    points = [(1200.0, 0.0), (1300.0, 0.0), (6000.0, 0.0)]
    root = drawn(running_dimensions(view, (0, 0), points, 5))
    assert texts(root) == ["1200", "1300", "6000"]
    # 1200 and 1300 are 1 mm apart on paper, less than the text is high: one goes above the line.
    heights = [float(each.get("y", "")) for each in every(root, "text")]
    assert heights[1] < 45 < heights[0]
    with pytest.raises(ValueError, match="nothing"):
        running_dimensions(view, (0, 0), [], 5)
