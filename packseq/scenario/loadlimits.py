"""What a pack may be when it leaves the plant: the ``[load]`` table and the decks it travels on."""

from __future__ import annotations

from dataclasses import dataclass

Group = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Deck:
    """The bed of a truck or trailer: packs lie on it one behind the other."""

    name: str
    length_mm: float
    most_kg: float


@dataclass(frozen=True, slots=True)
class LoadLimits:
    """The limits that every pack keeps (docs/load.md, with the source of each default).

    Parameters
    ----------
    most_kg
        Most mass of a pack, where its landing place does not give its own.
    most_layers, most_height_mm
        Most layers, and most height from the ground to the top of the pack, bearers included.
    bearer_mm
        Height of the bearers under the bottom layer.
    longest_mm, widest_mm
        Longest and widest pack.
    most_packs
        Most packs over all levels; None: one on each landing place.
    overhang_mm
        How far a frame may reach past any layer beneath it, at each end and each side.
    balance_mm
        How far the centre of gravity may lie from the middle of the pack, along and across.
    end_to_end, side_by_side
        Whether frames may share a layer one behind, or one beside the other.
    layer_gap_mm
        Room left between two frames of a layer.
    together, apart
        Frames that must lie in one pack, and frames of which no two may.
    """

    most_kg: float = 1500.0
    most_layers: int = 20
    most_height_mm: float = 1800.0
    bearer_mm: float = 100.0
    longest_mm: float = 7200.0
    widest_mm: float = 3000.0
    most_packs: int | None = None
    overhang_mm: float = 300.0
    balance_mm: float = 150.0
    end_to_end: bool = True
    side_by_side: bool = True
    layer_gap_mm: float = 0.0
    together: tuple[Group, ...] = ()
    apart: tuple[Group, ...] = ()
