"""The slab as measured, as a sheet."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.geometry import whole_mm
from packseq.house.model import House
from packseq.sheet import Column, Section, Sheet, Table, Words
from packseq.sitework.forms import signed
from packseq.sitework.measuring import FIGURES_OF_THE_FILES, MEASURED, NOTHING_IS_STRONG, WHO_DECIDES
from packseq.sitework.slab.build import Base, Measured
from packseq.sitework.slab.edgewords import EdgeChoices, EdgeEnd, edge_ends
from packseq.sitework.slab.levels import Levels
from packseq.sitework.slab.model import Adjusted, Checked, Fit
from packseq.sitework.slab.shape import corner_shapes, sides
from packseq.sitework.walls import compass

TITLE = "Slab check"
_DOUBTFUL = "The tapes do not agree: mark nothing from this before they do."
CAUTIONS = (WHO_DECIDES, NOTHING_IS_STRONG, FIGURES_OF_THE_FILES, MEASURED)

_STILL_MM = 0.5


def slab_sheet(
    house: House, base: Base, measured: Measured | None, levels: Levels | None, choices: EdgeChoices
) -> Sheet:
    """Return the sheet of what was measured: distances, levels or both."""
    sections: list[Section] = []
    if measured is not None:
        sections.append(Section("Do the tapes agree?", (Words(tuple(tape_words(measured))),)))
        sections.append(Section("The corners as measured", _corners(house, base, measured.adjusted)))
        sections.append(Section("The sides", (_sides(house, measured.adjusted),)))
        sections.extend(_fit(base, measured, choices))
        sections.append(Section("Every tape, worst first", (_tapes(measured.adjusted),)))
    if levels is not None:
        sections.append(Section("Levels along the plate lines", _levels(levels, choices.level_mm)))
    return Sheet(TITLE, house.scenario.name, CAUTIONS, tuple(sections))


def tape_words(measured: Measured) -> Iterator[str]:
    """Yield whether the tapes agree, which one is suspect, and what nothing checks."""
    done = measured.adjusted
    count = f"{len(done.tapes)} tapes, {done.spare_tapes} more than it takes to fix the corners."
    if done.unit_error is None:
        yield f"{count} Nothing checks them: one misread tape gives a wrong slab. Measure more diagonals."
    elif done.suspects:
        yield f"{count} They do not agree."
        yield _suspect(done.suspects)
        if measured.without is not None:
            yield f"Without it the others {_agreement(measured.without)}."
    elif not done.agrees:
        yield (
            f"{count} They agree less well than tapes should ({done.unit_error:.1f} times what is expected), "
            "and no single one stands out: sag, wind, a bent hook, marks that are not at the corner. Measure "
            "again."
        )
    else:
        yield f"{count} They agree as well as tapes do ({done.unit_error:.1f} times what is expected)."
    unchecked = [each for each in done.tapes if each.score is None]
    if unchecked and done.spare_tapes:
        yield f"No other tape checks {'; '.join(_named(each) for each in unchecked)}."
    if measured.tapes.blank:
        rows = "; ".join(f"{first} to {second} (row {row})" for row, (first, second) in measured.tapes.blank)
        yield f"Left blank: {rows}."


def _agreement(done: Adjusted) -> str:
    if done.unit_error is None:
        return "have nothing that checks them"
    return (
        f"{'agree' if done.agrees else 'do not agree either'} ({done.unit_error:.1f} times what is expected)"
    )


def _suspect(suspects: tuple[Checked, ...]) -> str:
    if len(suspects) == 1:
        (worst,) = suspects
        wrong = worst.blunder_mm or 0.0
        return (
            f"Suspect: {_named(worst)}. If it alone is wrong, it reads about {abs(wrong):.0f} mm too "
            f"{'long' if wrong > 0 else 'short'}. Measure it again before anything below is used."
        )
    every = "; ".join(_named(each) for each in suspects)
    return f"One of these is wrong, and the tapes cannot tell which: {every}. Measure each of them again."


def _named(each: Checked) -> str:
    first, second = each.tape.corners
    return f"{first} to {second}, {each.tape.measured_mm:.10g} mm (row {each.tape.row})"


def _corners(house: House, base: Base, done: Adjusted) -> tuple[Words, Table]:
    first, second = base.corners
    columns = (
        Column("corner"),
        Column("x mm", number=True),
        Column("y mm", number=True),
        Column("off the drawing mm"),
        Column("give or take mm", number=True),
        Column("angle deg", number=True),
        Column("out of square deg", number=True),
        Column("out of square mm"),
    )
    rows = []
    for each in corner_shapes(house.scenario.slab, done):
        out = f"{each.out_mm:+.0f} over {each.over_mm:.0f}" if round(each.out_mm) else "0"
        rows.append(
            (
                each.name,
                f"{each.at[0]:.0f}",
                f"{each.at[1]:.0f}",
                _moved(each.moved),
                f"{max(each.sd_mm):.1f}",
                f"{each.angle_deg:.3f}",
                f"{each.turned_deg:+.3f}",
                out,
            )
        )
    words = (
        f"Laid on the drawing by the edge {first}-{second}: {first} where it is drawn, the edge as it lies. "
        "Give or take: one standard deviation, the larger of x and y. Out of square: by how much the angle "
        "on the slab's side is more than drawn, and what that comes to over the shorter side there."
    )
    return Words((words,)), Table(columns, tuple(rows))


def _moved(moved: tuple[float, float]) -> str:
    """Return how far a corner lies off where it is drawn, by compass."""
    parts = [
        f"{abs(way):.0f} {compass(heading)}"
        for way, heading in ((moved[0], (moved[0], 0.0)), (moved[1], (0.0, moved[1])))
        if abs(way) >= _STILL_MM
    ]
    return ", ".join(parts) or "0"


def _sides(house: House, done: Adjusted) -> Table:
    columns = (
        Column("side"),
        Column("drawn mm", number=True),
        Column("measured mm", number=True),
        Column("longer by mm", number=True),
    )
    return Table(
        columns,
        tuple(
            (
                side.name,
                f"{side.drawn_mm:.0f}",
                f"{side.measured_mm:.0f}",
                signed(side.measured_mm - side.drawn_mm),
            )
            for side in sides(house.scenario.slab, done)
        ),
    )


def _fit(base: Base, measured: Measured, choices: EdgeChoices) -> Iterator[Section]:
    heading = "How the frames fit on it"
    fit = measured.fit
    if fit is None:
        words = (
            f"The reference wall, the {base.reference.name}, stands at no edge of the slab: nothing to fit."
        )
        yield Section(heading, (Words((words,)),))
        return
    columns = (
        Column("wall"),
        Column("edge"),
        Column("end"),
        Column("over, drawn mm", number=True),
        Column("over, here mm", number=True),
        Column("line in from edge mm", number=True),
        Column("what to do"),
    )
    ends = edge_ends(fit, choices)
    table = Table(columns, tuple(_end_row(each) for each in ends))
    doubtful = (_DOUBTFUL,) if measured.adjusted.suspects or measured.adjusted.agrees is False else ()
    yield Section(heading, (Words((*doubtful, *fit_words(base, fit))), table))


def fit_words(base: Base, fit: Fit) -> Iterator[str]:
    """Yield where the frame plan goes on the slab as measured."""
    along, left = base.reference.along, base.reference.left
    ways = [
        f"{abs(by):.0f} mm {compass((axis[0] * by, axis[1] * by))}"
        for by, axis in ((fit.along_mm, along), (fit.inward_mm, left))
        if abs(by) >= _STILL_MM
    ]
    shift = f"Shift the whole set-out {' and '.join(ways)}" if ways else "Leave the set-out where it is drawn"
    edge = "-".join(base.corners)
    yield (
        f"{shift}, the {base.reference.name} parallel to its edge {edge} as drawn. No other shift does "
        f"better: the face furthest from where it is drawn to its edge is {fit.worst_mm:.0f} mm off."
    )
    yield (
        "Over: how far the frame's outer face comes over the slab edge; with a minus sign it stands back. "
        "Mark each line in from the edge as given, then check its diagonals (packseq setout)."
    )


def _end_row(each: EdgeEnd) -> tuple[str, ...]:
    return (
        each.wall,
        each.edge,
        f"toward {each.corner}",
        str(whole_mm(each.drawn_mm)),
        str(whole_mm(each.over_mm)),
        str(whole_mm(each.line_mm)),
        each.to_do,
    )


def _tapes(done: Adjusted) -> Table:
    columns = (
        Column("row", number=True),
        Column("from"),
        Column("to"),
        Column("measured mm", number=True),
        Column("adjusted mm", number=True),
        Column("off mm", number=True),
        Column("score", number=True),
        Column("checked by the others", number=True),
        Column("a slip is seen from mm", number=True),
    )
    rows = [
        (
            str(each.tape.row),
            *each.tape.corners,
            f"{each.tape.measured_mm:.10g}",
            f"{each.adjusted_mm:.1f}",
            f"{each.off_mm:+.1f}",
            "" if each.score is None else f"{abs(each.score):.1f}",
            f"{each.spare:.0%}",
            "never" if each.seen_from_mm is None else f"{each.seen_from_mm:.0f}",
        )
        for each in sorted(done.tapes, key=lambda each: (-abs(each.score or 0.0), each.tape.row))
    ]
    return Table(
        columns, tuple(rows), title="A score above 3.3 is a slip: a sound tape has it once in a thousand."
    )


def _levels(levels: Levels, within_mm: float) -> tuple[Words, Table]:
    off = [spot for spot in levels.spots if spot.verdict(within_mm) != "level"]
    high = levels.highest.station
    count = f"{len(off)} lie" if len(off) > 1 else "One lies" if off else "None lies"
    head = (
        f"{len(levels.spots)} stations; from the lowest to the highest {levels.span_mm:.0f} mm. The highest "
        f"is {high.frame} at {high.at_mm:.0f}: packing is up to there. {count} more than {within_mm:g} mm "
        "off the mean of all."
    )
    words = [head]
    if any(spot.verdict(within_mm) == "high" for spot in off):
        words.append(
            "A high spot taken down saves packing everywhere else: ask before grinding, and take levels "
            "again afterwards."
        )
    if levels.blank_rows:
        words.append(f"Left blank: row {', '.join(map(str, levels.blank_rows))}.")
    columns = (
        Column("frame"),
        Column("at mm", number=True),
        Column("over the mean mm", number=True),
        Column("it is"),
        Column("pack mm", number=True),
    )
    rows = tuple(
        (
            spot.station.frame,
            f"{spot.station.at_mm:.0f}",
            signed(spot.over_mean_mm),
            spot.verdict(within_mm),
            str(whole_mm(spot.packing_mm)),
        )
        for spot in levels.spots
    )
    return Words(tuple(words)), Table(columns, rows)
