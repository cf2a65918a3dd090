"""What is wrong with a level on which no way round can be found, and with frames that stand alone."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from itertools import combinations

import shapely
from shapely import MultiLineString, Polygon

from packseq.errors import Fault
from packseq.geometry import whole_mm
from packseq.house.links import Links, among, groups
from packseq.house.location import exposure
from packseq.house.misses import miss_text
from packseq.house.shapes import end_faces, polygon
from packseq.scenario.model import Frame

_TWO = 2
"""Neighbours that a frame has in a perimeter."""

_MOST_NAMED = 6


def listed(names: Sequence[str]) -> str:
    """Return names as people say them: "E1, E2 and E3"; past six, how many more."""
    if len(names) > _MOST_NAMED:
        return f"{', '.join(names[:_MOST_NAMED])} and {len(names) - _MOST_NAMED} more"
    return " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)


def loose_faults(frames: Mapping[str, Frame], links: Links, externals: Collection[str]) -> list[Fault]:
    """Return a fault for each frame that touches nothing and each group of internal frames that stands apart.

    A level of one frame has nothing to touch. Groups with external frames in them are
    left to `perimeter_faults`.
    """
    faults = []
    outlines = {name: polygon(frame) for name, frame in frames.items()}
    for group in groups(links):
        others = {name: outlines[name] for name in sorted(set(frames) - set(group))}
        if not others or (len(group) > 1 and set(group) & set(externals)):
            continue
        distance_mm, name, nearest = min(_nearest(name, outlines[name], others) for name in group)
        missed = miss_text(frames[name], frames[nearest])
        level = frames[name].level
        if len(group) == 1:
            text = f"{name} touches no other frame of level {level}"
            away = f" (the nearest is {nearest}, {distance_mm} mm away)"
        else:
            text = (
                f"{listed(group)} touch nothing but one another: no other frame of level {level} joins them"
            )
            away = f" (the nearest is {nearest}, {distance_mm} mm from {name})"
        faults.append(_fault(frames[name], f"{text}; {missed}" if missed else text + away))
    return faults


def perimeter_faults(externals: Mapping[str, Frame], links: Links, boundary: MultiLineString) -> list[Fault]:
    """Return why external frames do not go once round the building: open ends, branches, separate rings.

    At least one fault comes back. Frames that touch nothing at all are left to `loose_faults`.
    """
    touching = among(links, externals)
    faults: list[Fault] = []
    short_cuts: list[Fault] = []
    for name, frame in sorted(externals.items()):
        neighbours = sorted(touching[name])
        if len(neighbours) < _TWO:
            if links[name]:
                faults.append(_fault(frame, _open_text(frame, neighbours, externals)))
        elif len(neighbours) > _TWO:
            text = f"{name} touches {listed(neighbours)} in the perimeter: the perimeter branches here"
            # Two neighbours that touch each other stand either side of a very short frame: seldom the cause.
            at_short_frame = any(other in touching[one] for one, other in combinations(neighbours, 2))
            (short_cuts if at_short_frame else faults).append(_fault(frame, text))
        elif exposure(frame, boundary) is None:
            faults.append(_fault(frame, f"{name} is external, but neither of its long sides faces outdoors"))
    return faults or [*_apart_faults(externals, touching), *short_cuts]


def _apart_faults(externals: Mapping[str, Frame], touching: Links) -> list[Fault]:
    """Return a fault for each ring of external frames but the one with the most."""
    rings = sorted(groups(touching), key=lambda ring: (-len(ring), ring))
    return [
        _fault(
            externals[ring[0]],
            f"{listed(ring)} stand apart from the rest of the perimeter ({listed(rings[0])}): "
            f"a level has one way round",
        )
        for ring in rings[1:]
        if len(ring) > 1
    ]


def _open_text(frame: Frame, neighbours: Sequence[str], externals: Mapping[str, Frame]) -> str:
    """Return what is wrong with an external frame that has fewer than two neighbours.

    The distance is measured from the end that nothing touches.
    """
    faces = end_faces(frame)
    if neighbours:
        touched = polygon(externals[neighbours[0]])
        open_end = max(faces, key=touched.distance)
        text = f"{frame.name} touches only {neighbours[0]} in the perimeter: the perimeter is open here"
    else:
        open_end = polygon(frame).exterior
        text = f"{frame.name} touches no other external frame: the perimeter is open here"
    others = [other for name, other in sorted(externals.items()) if name not in {frame.name, *neighbours}]
    if not others:
        return text
    distance_mm, nearest = min((polygon(other).distance(open_end), other.name) for other in others)
    missed = miss_text(*sorted((frame, externals[nearest]), key=lambda one: one.row))
    if missed:
        return f"{text}; {missed}"
    return f"{text} (nearest external frame {nearest} is {whole_mm(distance_mm)} mm away)"


def _nearest(name: str, outline: Polygon, others: Mapping[str, Polygon]) -> tuple[int, str, str]:
    """Return the distance in whole mm to the nearest of other frames, the frame's own name and that one's."""
    distances_mm = shapely.distance(outline, list(others.values()))
    return min(
        (whole_mm(float(distance_mm)), name, other)
        for distance_mm, other in zip(distances_mm, others, strict=True)
    )


def _fault(frame: Frame, text: str) -> Fault:
    return Fault(file=frame.file, text=text, row=frame.row, frame=frame.name)
