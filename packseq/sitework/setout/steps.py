"""What to do to mark each line, in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from packseq.geometry import Point, Ring, bearing_deg, middle, whole_mm
from packseq.sitework.setout.model import GridLine, Role, SetOut
from packseq.sitework.slabedges import AtEdge, corners_at
from packseq.sitework.walls import Wall, compass

_TWO_MARKS = 2

_NAMES: Mapping[Role, str] = {
    "reference": "reference line",
    "square": "square to it",
    "closing": "closing line",
    "external": "external",
    "internal": "internal",
}


def line_name(line: GridLine) -> str:
    """Return what a line is called: its role, and which way it lies where that is not said by it."""
    name = _NAMES[line.role]
    if line.role not in {"external", "internal"}:
        return name
    return f"{name}, skew" if line.lie == "skew" else f"{name}, {line.lie} the reference wall"


def step(line: GridLine, done: SetOut, at_edges: Sequence[AtEdge], slab: Ring) -> str:
    """Return how to mark a line.

    Parameters
    ----------
    line
        The line.
    done
        The set-out that it belongs to.
    at_edges
        Which walls stand at which edges of the slab.
    slab
        The outline of the slab as drawn.
    """
    from_edge = _from_edge(line, at_edges, corners_at(slab))
    head = f"Line {line.number}, {line_name(line)}:"
    if line.role == "reference":
        where = f"measure {from_edge} at both ends" if from_edge else "mark both ends off the drawings"
        return f"{head} {where}, and snap it."
    if line.role == "square":
        check = f" It should come {from_edge}." if from_edge else ""
        running = whole_mm(line.running_mm or 0.0)
        place = "at zero" if running == 0 else f"at {running} along line 1 from zero"
        return f"{head} square off line 1 {place}, and snap it.{check}"
    marks = " and ".join(_mark(line, done.line(number), done) for number in line.marked_on)
    marks = f"mark {marks}" if marks else "mark it off the drawings"
    if len(line.marked_on) < _TWO_MARKS:
        marks += _otherwise(line, done)
    turned = f" It lies {_turn_deg(done, line):.2f} degrees to line 1." if line.lie == "skew" else ""
    check = f" It should come {from_edge}." if from_edge else ""
    return f"{head} {marks}, and snap it.{turned}{check}"


def _otherwise(line: GridLine, done: SetOut) -> str:
    """Return how else to place a line that too few others cross: off one that is parallel to it."""
    parallel = [each for each in done.lines[: line.number - 1] if each.lie == line.lie != "skew"]
    if not parallel:
        return ", square off there" if line.marked_on else ""
    nearest = min(parallel, key=lambda each: abs((each.running_mm or 0.0) - (line.running_mm or 0.0)))
    apart = whole_mm(abs((nearest.running_mm or 0.0) - (line.running_mm or 0.0)))
    return f", {apart} mm off line {nearest.number} at both ends"


def side_of(line: GridLine, wall: Wall) -> str:
    """Return on which compass side of a line a wall lies."""
    (ux, uy), (x, y) = line.along_unit, middle(wall.start, wall.end)
    left_mm = ux * (y - line.start[1]) - uy * (x - line.start[0])
    return compass((-uy, ux) if left_mm > 0 else (uy, -ux))


def _mark(line: GridLine, other: GridLine, done: SetOut) -> str:
    """Return where a line is marked on another one: its distance along it from line 1 or line 2."""
    at = line.crossing(other)
    if at is None:
        raise ValueError(f"lines {line.number} and {other.number} do not cross")
    axis = done.forward if other.lie == "along" else done.inward
    running = whole_mm((at[0] - done.zero[0]) * axis[0] + (at[1] - done.zero[1]) * axis[1])
    return f"{running} on line {other.number}"


def _from_edge(line: GridLine, at_edges: Iterable[AtEdge], at: Mapping[str, Point]) -> str:
    """Return how far in from the slab edge a line lies, as drawn; blank where none of its walls is at one."""
    names = {served.wall.name for served in line.serves}
    for each in at_edges:
        if each.wall.name in names:
            first, last = (whole_mm(-each.edge.over_mm(point, at)) for point in (line.start, line.end))
            distance = f"{first} mm" if first == last else f"{min(first, last)} to {max(first, last)} mm"
            return f"{distance} in from the slab edge {each.edge.name}"
    return ""


def _turn_deg(done: SetOut, line: GridLine) -> float:
    """Return the angle between a line and the reference line, 0 to 90 degrees."""
    half_turn = 180.0
    turn = abs(bearing_deg(line.start, line.end) - bearing_deg((0.0, 0.0), done.forward)) % half_turn
    return min(turn, half_turn - turn)
