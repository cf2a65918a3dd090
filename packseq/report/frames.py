"""Tables of frames and of the walls that they make."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from rich.console import RenderableType

from packseq.house.model import House
from packseq.report.layout import columns, section
from packseq.report.words import names, wall
from packseq.scenario.model import Frame, Opening


def walls_section(house: House) -> RenderableType:
    """Return the straight walls in their order, each with its frames end to end."""
    rows = ((run.name, f"{run.length_mm / 1000:.2f}", names(run.frames)) for run in house.runs)
    return section(
        "Walls (external ones anticlockwise, internal ones from west to east or south to north)",
        columns(("wall", "length m", "frames, end to end"), rows, right={"length m"}),
    )


def frames_section(house: House) -> RenderableType:
    """Return every frame with what it is, what it needs and what it meets."""
    crew = house.scenario.crew
    joins = joins_of(house)
    rows = (
        (
            frame.name,
            wall(house, frame.name),
            house.locations[frame.name],
            f"{frame.length_mm:.0f}",
            f"{frame.height_mm:.0f}",
            f"{frame.thickness_mm:.0f}",
            f"{'* ' if frame.mass_is_estimate else ''}{frame.mass_kg:.1f}",
            str(crew.team(frame.mass_kg)),
            _openings(frame),
            _meets(joins[frame.name]),
        )
        for frame in house.scenario.frames.values()
    )
    headings = (
        "frame",
        "wall",
        "location",
        "length mm",
        "height mm",
        "thick mm",
        "kg",
        "people",
        "openings (mm from end 1)",
        "meets",
    )
    return section("Frames", columns(headings, rows, right={*headings[3:8]}))


def joins_of(house: House) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """Return for each frame its joins: kind and other frame, by kind, then in the order of frames.csv."""
    joins: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for join in house.joins:
        first, second = join.frames
        joins[first].append((join.kind, second))
        joins[second].append((join.kind, first))
    order = {name: place for place, name in enumerate(house.scenario.frames)}
    return {name: tuple(sorted(joins[name], key=lambda join: (join[0], order[join[1]]))) for name in order}


def _openings(frame: Frame) -> str:
    return "; ".join(_opening(opening) for opening in frame.openings)


def _opening(opening: Opening) -> str:
    sill = f", sill {opening.sill_mm:.0f}" if opening.sill_mm else ""
    wide = f"{opening.kind} {opening.width_mm:.0f} wide at {opening.from_mm:.0f}"
    return f"{wide}{sill}, head {opening.head_mm:.0f}"


def _meets(joins: tuple[tuple[str, str], ...]) -> str:
    by_kind: dict[str, list[str]] = defaultdict(list)
    for kind, other in joins:
        by_kind[kind].append(other)
    return "; ".join(f"{kind} {', '.join(others)}" for kind, others in by_kind.items())
