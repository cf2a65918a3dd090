from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import pairwise
from pathlib import Path

import pytest
from svg_reading import every, parsed, texts

from packseq.drawing.stacks import Lying, lying_layers, pack_from_above, pack_from_side
from packseq.scenario.read import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
LAYERS = (
    (Lying("A", 0, 1200, 0, 2400, 90), Lying("B", 1200, 900, 0, 2400, 90)),
    (Lying("C", 0, 3000, 0, 2400, 90),),
)


def said(svg: str) -> list[str]:
    return texts(parsed(svg))


def shapes(svg: str) -> list[ET.Element]:
    return list(every(parsed(svg), "polygon"))


def test_from_the_side_every_layer_is_named_top_first() -> None:
    drawing = pack_from_side("a pack", LAYERS)
    assert said(drawing.svg()) == ["a pack", "1:  A, B", "2:  C", "3000"]
    assert len(shapes(drawing.svg())) == 3


def test_from_above_one_layer_and_the_one_under_it() -> None:
    top = pack_from_above("top", LAYERS).svg()
    assert said(top) == ["top", "A", "B", "3000", "2400"]
    assert [shape.get("stroke-dasharray") for shape in shapes(top)] == ["1.5 1", None, None]
    bottom = pack_from_above("bottom", LAYERS, 1).svg()
    assert said(bottom) == ["bottom", "C", "3000", "2400"]
    with pytest.raises(IndexError):
        pack_from_above("none", LAYERS, 2)


def test_frames_that_share_a_layer_lie_end_to_end_and_then_beside_one_another() -> None:
    scenario = read_scenario(SCENARIOS / "l-shaped")
    for pack in scenario.packs.values():
        for layer in lying_layers(scenario, pack):
            assert all(lying.from_mm + lying.length_mm <= pack.length_mm for lying in layer)
            spans = sorted((lying.across_mm, lying.from_mm, lying.length_mm) for lying in layer)
            for (across, start, length), (next_across, next_start, _) in pairwise(spans):
                assert next_across > across or next_start >= start + length
