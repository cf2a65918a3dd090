"""A pack measured: mass, size, centre of gravity and overhangs, all from where its frames lie."""

from __future__ import annotations

from dataclasses import dataclass

from packseq.plan.load import LaidLayer, LaidPack, Lying, grams, lying_in
from packseq.scenario.model import Scenario


@dataclass(frozen=True, slots=True)
class MeasuredLayer:
    """One layer: how far it reaches, and how far a frame that lies on it is carried.

    `reach_mm` is (length, width) of the whole row. `bears_mm` is what every part of the row has: the
    length and width within which a frame on top lies on wood wherever it lies.
    `overhang_mm` is how far the row reaches past the layers beneath it, along and across; 0 for
    none, and for the bottom layer.
    """

    layer: LaidLayer
    lying: tuple[Lying, ...]
    thickness_mm: float
    mass_kg: float
    reach_mm: tuple[float, float]
    bears_mm: tuple[float, float]
    overhang_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class MeasuredPack:
    """A whole pack; `height_mm` is from the ground, bearers included, `centre_mm` from its middle."""

    name: str
    layers: tuple[MeasuredLayer, ...]
    mass_kg: float
    height_mm: float
    length_mm: int
    width_mm: int
    centre_mm: tuple[float, float]

    @property
    def overhang_mm(self) -> float:
        """The furthest that any frame reaches past a layer beneath it."""
        return max(max(layer.overhang_mm) for layer in self.layers)


def measured(pack: LaidPack, scenario: Scenario) -> MeasuredPack:
    """Measure a pack as it is laid up.

    Every frame's own centre of gravity is taken to lie at its middle. The length and width of the
    pack are those of its longest and its tallest frame (docs/files.md).
    """
    layers: list[MeasuredLayer] = []
    beneath: tuple[float, float] | None = None
    for layer in reversed(pack.layers):
        plain = _measured_layer(layer, scenario, beneath)
        layers.insert(0, plain)
        length, width = plain.bears_mm
        beneath = (length, width) if beneath is None else (min(beneath[0], length), min(beneath[1], width))
    every = [lying for layer in layers for lying in layer.lying]
    mass_g = sum(grams(lying.frame) for lying in every)
    return MeasuredPack(
        name=pack.name,
        layers=tuple(layers),
        mass_kg=mass_g / 1000,
        height_mm=scenario.load.bearer_mm + sum(layer.thickness_mm for layer in layers),
        length_mm=max(lying.length_mm for lying in every),
        width_mm=max(lying.width_mm for lying in every),
        centre_mm=(
            sum(grams(lying.frame) * lying.along_mm for lying in every) / mass_g,
            sum(grams(lying.frame) * lying.across_mm for lying in every) / mass_g,
        ),
    )


def _measured_layer(
    layer: LaidLayer, scenario: Scenario, beneath: tuple[float, float] | None
) -> MeasuredLayer:
    lying = lying_in(layer, scenario.frames, scenario.load.layer_gap_mm)
    length = max(each.along_mm + each.length_mm / 2 for each in lying) - min(
        each.along_mm - each.length_mm / 2 for each in lying
    )
    width = max(each.across_mm + each.width_mm / 2 for each in lying) - min(
        each.across_mm - each.width_mm / 2 for each in lying
    )
    shortest, narrowest = min(each.length_mm for each in lying), min(each.width_mm for each in lying)
    overhang = (
        (0.0, 0.0)
        if beneath is None
        else (max(0.0, (length - beneath[0]) / 2), max(0.0, (width - beneath[1]) / 2))
    )
    return MeasuredLayer(
        layer=layer,
        lying=lying,
        thickness_mm=max(each.frame.thickness_mm for each in lying),
        mass_kg=sum(grams(each.frame) for each in lying) / 1000,
        reach_mm=(length, width),
        bears_mm=(float(shortest), width) if layer.side_by_side else (length, float(narrowest)),
        overhang_mm=overhang,
    )
