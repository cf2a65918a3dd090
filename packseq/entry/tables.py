"""A scenario's frames, openings and packs as tables, to be written as CSV or as sheets."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from packseq.scenario.files import FRAMES, OPENINGS, PACKS
from packseq.scenario.model import Frame, Pack, Scenario

Cell = str | float | None

LAYOUT_COLUMNS = (
    "frame",
    "heading",
    "length_mm",
    "from",
    "at_mm",
    "end",
    "to",
    "through",
    "gap_mm",
    "height_mm",
    "thickness_mm",
    "level",
    "x_mm",
    "y_mm",
    "location",
    "mass_kg",
)
"""The columns of layout.csv in the order in which they are filled in."""


@dataclass(frozen=True, slots=True)
class Grid:
    """A table to be written: its file, its columns, and rows with a cell for each; None is blank."""

    file: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]

    def csv_text(self) -> str:
        """Return the table as comma-separated text."""
        text = io.StringIO(newline="")
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(self.columns)
        writer.writerows([written(cell) for cell in row] for row in self.rows)
        return text.getvalue()


def written(cell: Cell) -> str:
    """Return a cell as text: whole numbers without a point, others to at most a millionth."""
    if isinstance(cell, float | int):
        return f"{cell:.6f}".rstrip("0").rstrip(".")
    return cell or ""


def frames_grid(frames: Iterable[Frame]) -> Grid:
    """Return frames.csv; what was derived or estimated stays blank."""
    return Grid(
        FRAMES,
        (
            "frame",
            "level",
            "x1_mm",
            "y1_mm",
            "x2_mm",
            "y2_mm",
            "height_mm",
            "thickness_mm",
            "location",
            "mass_kg",
        ),
        tuple(
            (
                frame.name,
                frame.level,
                *frame.start,
                *frame.end,
                frame.height_mm,
                frame.thickness_mm,
                frame.location,
                None if frame.mass_is_estimate else frame.mass_kg,
            )
            for frame in frames
        ),
    )


def openings_grid(frames: Iterable[Frame]) -> Grid:
    """Return openings.csv."""
    return Grid(
        OPENINGS,
        ("frame", "kind", "from_mm", "width_mm", "sill_mm", "head_mm"),
        tuple(
            (frame.name, hole.kind, hole.from_mm, hole.width_mm, hole.sill_mm, hole.head_mm)
            for frame in frames
            for hole in frame.openings
        ),
    )


def packs_grid(packs: Iterable[Pack]) -> Grid:
    """Return packs.csv."""
    return Grid(
        PACKS,
        ("pack", "layer", "frame"),
        tuple(
            (pack.name, number, frame)
            for pack in packs
            for number, layer in zip(pack.layer_numbers, pack.layers, strict=True)
            for frame in layer
        ),
    )


def scenario_grids(scenario: Scenario) -> Sequence[Grid]:
    """Return frames.csv, openings.csv and packs.csv of a scenario."""
    frames = tuple(scenario.frames.values())
    return (frames_grid(frames), openings_grid(frames), packs_grid(scenario.packs.values()))
