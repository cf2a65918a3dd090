"""Packs as they are laid up in the plant, and the order in which they travel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from packseq.geometry import whole_mm
from packseq.scenario.loadlimits import LoadLimits
from packseq.scenario.model import Frame, Pack


@dataclass(frozen=True, slots=True)
class LaidLayer:
    """Frames of one layer in order: end to end along the pack, or side by side across it."""

    frames: tuple[str, ...]
    side_by_side: bool = False


@dataclass(frozen=True)
class LaidPack:
    """A pack by the name of its landing place; ``layers[0]`` is the top."""

    name: str
    layers: tuple[LaidLayer, ...]

    @cached_property
    def frames(self) -> tuple[str, ...]:
        """Every frame of the pack, top layer first."""
        return tuple(frame for layer in self.layers for frame in layer.frames)


@dataclass(frozen=True, slots=True)
class DeckLoad:
    """The packs of one deck in the order in which they come off; they go on the other way round."""

    deck: str
    packs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Load:
    """Every pack, in the order in which they are wanted on site, and the decks they travel on.

    The decks are in the order in which they arrive; without any, how the packs travel is left open.
    """

    packs: tuple[LaidPack, ...]
    decks: tuple[DeckLoad, ...] = ()


@dataclass(frozen=True, slots=True)
class Lying:
    """Where a frame lies in its pack, in whole mm from the pack's middle to the frame's middle."""

    frame: Frame
    along_mm: float
    across_mm: float
    length_mm: int
    width_mm: int


def grams(frame: Frame) -> int:
    """Return the mass of a frame in whole grams, as loads are added up."""
    return round(frame.mass_kg * 1000)


def lying_in(layer: LaidLayer, frames: Mapping[str, Frame], gap_mm: float) -> tuple[Lying, ...]:
    """Return where the frames of a layer lie: the row centred on the pack, `gap_mm` between its frames.

    Frames lie flat with their plates along the pack. Lengths and heights count in whole mm.
    """
    members = [frames[name] for name in layer.frames]
    sizes = [(whole_mm(frame.length_mm), whole_mm(frame.height_mm)) for frame in members]
    steps = [width if layer.side_by_side else length for length, width in sizes]
    starts = list(_running(steps, gap_mm))
    return tuple(
        Lying(frame, 0.0, start + width / 2, length, width)
        if layer.side_by_side
        else Lying(frame, start + length / 2, 0.0, length, width)
        for frame, start, (length, width) in zip(members, starts, sizes, strict=True)
    )


def as_laid(pack: Pack, frames: Mapping[str, Frame], limits: LoadLimits) -> LaidPack:
    """Return a pack of packs.csv as laid up: which row a layer makes is not written there.

    Frames of a layer lie end to end if the row is then no longer than the pack's longest frame, or if
    they would be too wide for the pack side by side; else side by side.
    """
    return LaidPack(pack.name, tuple(_guessed(layer, pack, frames, limits) for layer in pack.layers))


def _guessed(names: Sequence[str], pack: Pack, frames: Mapping[str, Frame], limits: LoadLimits) -> LaidLayer:
    gaps = (len(names) - 1) * limits.layer_gap_mm
    long = sum(whole_mm(frames[name].length_mm) for name in names) + gaps > whole_mm(pack.length_mm)
    wide = sum(whole_mm(frames[name].height_mm) for name in names) + gaps > whole_mm(pack.width_mm)
    return LaidLayer(tuple(names), side_by_side=len(names) > 1 and long and not wide)


def _running(steps: Sequence[int], gap_mm: float) -> Iterator[float]:
    """Yield where each frame of a row begins, the row centred on 0."""
    reached = -(sum(steps) + gap_mm * (len(steps) - 1)) / 2
    for step in steps:
        yield reached
        reached += step + gap_mm
