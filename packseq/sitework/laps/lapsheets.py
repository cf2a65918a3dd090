"""The lap sheets: one for each lap of each level, in the order in which they are walked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packseq.house.model import Join
from packseq.sheet import Column, Part, Section, Sheet, Table, Tick, Ticks, Words
from packseq.sitework.cautions import BRACING, DEFERRAL, FIXING, NO_FIGURE_DECIDES
from packseq.sitework.laps.anchors import STRAPPED_MM, AnchorRule
from packseq.sitework.laps.parallels import FROM_END_MM, Parallel
from packseq.sitework.laps.plates import Plate
from packseq.sitework.laps.strings import limit_words, string_parts
from packseq.sitework.laps.study import Laps, LevelLaps
from packseq.sitework.walls import compass, sides_of, toward

TITLE = "Laps"
_TIMBER_FLOOR = (
    "These plates stand on a timber floor. How they are fixed to it is for the consented drawings: "
    "write the fixing and its spacing here before beginning."
)
_CORNER = (
    "At each corner: clamp the two frames together from the bottom up, the top left until last. Plumb "
    "both ways with the braces, then close the top, clamp it and look again. Outward is +."
)
_JUNCTION = (
    "Read how far the top of each of the two frames leans where they meet, toward the side named; the other "
    "way is minus."
)
CAUTIONS = (BRACING, FIXING, NO_FIGURE_DECIDES, DEFERRAL)


def laps_sheet(laps: Laps) -> Sheet:
    """Return every lap of every level as one sheet, a section for each, the lowest level first."""
    sections = tuple(section for level in laps.levels for section in lap_sections(laps, level.level))
    return Sheet(TITLE, laps.job.house.scenario.name, CAUTIONS, sections)


def lap_sections(laps: Laps, level: int) -> tuple[Section, ...]:
    """Return the laps of one level in order."""
    many = len(laps.levels) > 1
    own = next(each for each in laps.levels if each.level == level)
    return tuple(
        Section(f"Level {level}, {heading[0].lower()}{heading[1:]}" if many else heading, tuple(parts))
        for heading, parts in _laps(laps, own)
    )


def _laps(laps: Laps, level: LevelLaps) -> Iterator[tuple[str, Iterator[Part]]]:
    yield "Lap 1: tack the joins", _tack(level)
    yield "Lap 2: bottom plates to the line", _bottom(laps, level)
    yield "Lap 3: fix the bottom plates", _fix(laps, level)
    yield "Lap 4: internal walls parallel", _parallel(laps, level)
    yield "Lap 5: corners plumb", _corners(laps, level)
    yield "Lap 6: junctions plumb and braced", _junctions(laps, level)
    yield "Lap 7: top plates to the line", _top(laps, level)
    yield "Lap 8: nail off", _nail(level)


def _tack(level: LevelLaps) -> Iterator[Part]:
    yield _start(level)
    yield Ticks(tuple(Tick(_pair(join)) for join in level.joins), "Tacked, flush, tight top and bottom:")
    yield _done("Every join is tacked and every brace is still fixed at both ends.")


def _bottom(laps: Laps, level: LevelLaps) -> Iterator[Part]:
    yield from string_parts(laps, level, "bottom")
    yield _done("Every bottom plate is on its line and its marks, within the limit.")


def _fix(laps: Laps, level: LevelLaps) -> Iterator[Part]:
    if not level.plates:
        yield Words((_TIMBER_FLOOR,))
        frames = [name for line in level.lines for name in line.frames]
        yield Ticks(tuple(Tick(f"{name} fixed", ("fixing", "spacing mm")) for name in frames))
    else:
        yield Words(tuple(_fixing_words(laps, level)))
        columns = (
            Column("frame"),
            Column("from"),
            Column("plate mm"),
            Column("fixings at mm"),
            Column("in from outer face mm", number=True),
            Column("to slab edge mm", number=True),
            Column("fixed", to_fill_in=True),
        )
        yield Table(columns, tuple(_plate_row(laps, plate) for plate in level.plates))
    yield _done("Every plate is fixed as the consented drawings have it, hold-downs included.")


def _fixing_words(laps: Laps, level: LevelLaps) -> Iterator[str]:
    rules = {laps.choices.plates.external.name: laps.choices.plates.external}
    rules[laps.choices.plates.internal.name] = laps.choices.plates.internal
    yield from (_rule_words(rule) for rule in rules.values())
    yield (
        "Places are in mm from the end named, along the frame. A place that falls under a stud moves "
        "beside it, toward the nearer end of the plate; if that makes a step longer than the rule, put "
        "in one more. Internal plates are fixed along their middle."
    )
    if laps.choices.plates.hold_downs:
        names = ", ".join(sorted(laps.choices.plates.hold_downs))
        yield f"Kept clear for hold-downs at both ends, which have fixings of their own: {names}."
    else:
        yield (
            "No hold-downs were given (--schedule or --bracing): where a wall braces, its hold-downs come "
            "first."
        )
    short = [plate for plate in level.plates if plate.fixings_mm is None]
    if short:
        where = ", ".join(f"{each.frame} {each.begins_mm:.0f}-{each.ends_mm:.0f}" for each in short)
        yield f"Too short for the rule, ask before fixing: {where}."
    unheld = [f"{plate.frame} {at_mm:.0f}" for plate in level.plates for at_mm in plate.unheld_mm]
    if unheld:
        yield (
            f"No fixing within {STRAPPED_MM:.0f} mm of these strapped trimming studs, because a hold-down or "
            f"the end of the plate is in the way; ask before fixing: {', '.join(unheld)}."
        )


def _rule_words(rule: AnchorRule) -> str:
    least = f", no nearer than {rule.end_least_mm:.0f} mm," if rule.end_least_mm else ""
    edge = f" {rule.edge_mm:.0f} mm or more from the edge of the slab;" if rule.edge_mm else ""
    return (
        f"Rule {rule.name} ({rule.what}): within {rule.end_most_mm:.0f} mm{least} of each end, at most "
        f"{rule.spacing_mm:.0f} mm apart;{edge} each length between doorways counts on its own. "
        f"{rule.source}."
    )


def _plate_row(laps: Laps, plate: Plate) -> tuple[str, ...]:
    places = "ask" if plate.fixings_mm is None else _listed(plate.fixings_mm)
    held = f"hold-down at {_listed(plate.hold_downs_mm)}" if plate.hold_downs_mm else ""
    return (
        plate.frame,
        laps.tapes[plate.frame].hook,
        f"{plate.begins_mm:.0f}-{plate.ends_mm:.0f}",
        "; ".join(words for words in (places, held) if words),
        "" if plate.from_outside_mm is None else f"{plate.from_outside_mm:.0f}",
        "" if plate.edge_mm is None else f"{plate.edge_mm:.0f}",
        "",
    )


def _listed(places: Sequence[float]) -> str:
    return ", ".join(f"{place:.0f}" for place in places)


def _parallel(laps: Laps, level: LevelLaps) -> Iterator[Part]:
    how = (
        f"Measure square across, from face to face of the bottom plates, {FROM_END_MM:.0f} mm from both ends "
        "of each wall; a short one a quarter of its length from them."
    )
    yield Words((how, limit_words(laps.choices.limits, "position")))
    columns = (
        Column("wall to set"),
        Column("frames"),
        Column("measured from"),
        Column("at its"),
        Column("should be mm", number=True),
        Column("is mm", number=True, to_fill_in=True),
    )
    rows = [row for parallel in level.parallels for row in _parallel_rows(parallel)]
    yield Table(columns, tuple(rows))
    alone = [parallel.wall for parallel in level.parallels if not parallel.taped]
    if alone:
        ticks = (Tick(f"{wall.name}, {', '.join(wall.frames)}: on its line", ("off mm",)) for wall in alone)
        yield Ticks(tuple(ticks), "Nothing parallel in view of these: set them to their lines on the floor.")
    yield _done("Every internal wall is parallel and on its dimension, and still tacked.")


def _parallel_rows(parallel: Parallel) -> Iterator[tuple[str, ...]]:
    for taped in parallel.taped:
        frames = ", ".join(parallel.wall.frames)
        yield parallel.wall.name, frames, taped.start_wall, taped.at_end, f"{taped.mm:.0f}", ""


def _corners(laps: Laps, level: LevelLaps) -> Iterator[Part]:
    yield Words((_CORNER, limit_words(laps.choices.limits, "plumb")))
    ticks = tuple(Tick(f"{'/'.join(pair)} (corner)", _leans(laps, pair)) for pair in level.corners)
    if ticks:
        yield Ticks(ticks, "Clamped bottom to top, plumb both ways, top closed last:")
    else:
        yield Words(("This level has no corners.",))
    yield _done("Every corner is plumb both ways and its braces are fixed again.")


def _junctions(laps: Laps, level: LevelLaps) -> Iterator[Part]:
    if not level.junctions:
        yield Words(("This level has no junctions.",))
        return
    yield Words((_JUNCTION, limit_words(laps.choices.limits, "plumb")))
    yield Ticks(
        tuple(Tick(_pair(join), _leans(laps, join.frames)) for join in level.junctions),
        "Joined through a stud or blocking, plumb, braced:",
    )
    yield _done("Every junction is plumb, joined and braced.")


def _top(laps: Laps, level: LevelLaps) -> Iterator[Part]:
    yield Words(("The external walls first, round from the reference wall; then inside.",))
    yield from string_parts(laps, level, "top")
    yield _done("Every top plate is on its line; lintels and long walls have been looked along.")


def _nail(level: LevelLaps) -> Iterator[Part]:
    yield Words(("Nail off each join as the fixing schedule has it, bottom, middle and top; plates last.",))
    yield Ticks(tuple(Tick(_pair(join)) for join in level.joins), "Nailed off, top plates fixed over:")
    yield _done("Every join is nailed off. The braces stay.")


def _start(level: LevelLaps) -> Words:
    names = [line.wall.name for line in level.lines if line.wall.location == "external"]
    return Words((f"Every lap begins at the {names[0]} and goes round: {', '.join(names)}; then inside.",))


def _leans(laps: Laps, names: Sequence[str]) -> tuple[str, ...]:
    """Return what is measured where two frames meet: how far each leans over its height, and which way is +.

    Out for an external frame; for an internal one left of its way, as a file of readings has it.
    """
    frames = laps.job.house.scenario.frames
    told = []
    for name in names:
        wall = laps.walls[name]
        side = sides_of(wall)[0]
        way = "out" if side == "outside" else compass(toward(wall, frames[name], side))
        told.append(f"{name} {way} mm in {frames[name].height_mm:.0f}")
    return tuple(told)


def _pair(join: Join) -> str:
    return f"{join.frames[0]}/{join.frames[1]} ({join.kind})"


def _done(text: str) -> Part:
    return Ticks((Tick(text, ("name", "date")),), "Before the next lap")
