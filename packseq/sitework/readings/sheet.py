"""Readings as a record for the job's papers, and what to read as a sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from packseq.house.model import House
from packseq.sheet import Column, Section, Sheet, Table, Tick, Ticks, Words
from packseq.sitework.forms import columns_table, signed
from packseq.sitework.measuring import MEASURED, NOTHING_IS_STRONG, WHO_DECIDES
from packseq.sitework.readings.file import COLUMNS
from packseq.sitework.readings.model import VERDICTS, Judged, Readings
from packseq.sitework.readings.squareness import Squareness
from packseq.sitework.readings.tolerances import CHECKS, MEANING, SETS, ToleranceSet

TITLE = "Readings"
_WHICH_LIMITS = (
    "Which limits hold for this house is for the local code, the contract and the consented documents to "
    "say. The sets here are copies at second hand of published figures: look them up before relying on them."
)
CAUTIONS = (
    WHO_DECIDES,
    _WHICH_LIMITS,
    NOTHING_IS_STRONG,
    MEASURED,
)

_SIGN_OFF = Ticks(
    (
        Tick("Everything marked fix is fixed and was measured again.", ("name", "date")),
        Tick("Everything marked re-check was measured again.", ("name", "date")),
        Tick("This record is with the job's papers.", ("name", "date")),
    )
)


def readings_sheet(
    house: House,
    readings: Readings,
    results: Sequence[Judged],
    square: Sequence[Squareness],
    limits: ToleranceSet,
) -> Sheet:
    """Return the record of readings: the worst first, then the limits, then room to sign."""
    sections = [
        Section("In short", (Words(tuple(_short(readings, results, square))),)),
        *_to_do(results),
        Section("Every reading, worst first", (_all(results),)),
        Section("Limits", (Words((HOW_JUDGED,)), limits_table(limits))),
        Section("Sign-off", (_SIGN_OFF,)),
    ]
    return Sheet(TITLE, house.scenario.name, CAUTIONS, tuple(sections))


def to_read_sheet(house: House) -> Sheet:
    """Return what a file of readings holds and which sets of limits there are."""
    sets = tuple(limits_table(each, title=each.name) for each in SETS.values())
    return Sheet(
        "Readings: what to measure",
        house.scenario.name,
        CAUTIONS,
        (
            Section("The file", (Words((_FILE, _CHOOSE)), columns_table(COLUMNS, "Columns"))),
            Section("Sets of limits", sets),
        ),
    )


def limits_table(limits: ToleranceSet, title: str = "") -> Table:
    """Return the limits of a set, each with its source; a check without one is told as such."""
    rows = []
    for check in CHECKS:
        limit = limits.limits.get(check)
        rows.append(
            (check, MEANING[check], str(limit), limit.source)
            if limit is not None
            else (check, MEANING[check], "no limit in this set", "")
        )
    columns = (Column("check"), Column("of"), Column("limit"), Column("source"))
    return Table(columns, tuple(rows), title=title or f"Set {limits.name}")


_FILE = (
    "Give the file with --measured; --form writes an empty one with every place worth checking in this "
    "house. A row without a reading is listed as not measured."
)
_CHOOSE = "Choose limits with --tolerances: a name below, or a .toml file of your own."
HOW_JUDGED = (
    "Pass: within its limit even if the reading is off by all that it may be (give or take). Fix: past its "
    "limit even so. Re-check: the reading cannot tell; measure again, more closely."
)


def _short(readings: Readings, results: Sequence[Judged], square: Sequence[Squareness]) -> Iterator[str]:
    counts = Counter(each.verdict for each in results)
    told = ", ".join(f"{verdict} {counts[verdict]}" for verdict in VERDICTS if counts[verdict])
    yield f"{len(results)} readings: {told}."
    for each in square:
        names = " and ".join(" to ".join(ends) for ends in each.rectangle.diagonals)
        level = f"Level {each.level}, rectangle" if each.level > 1 else "Rectangle"
        yield (
            f"{level} that proves line {each.rectangle.proves}: its diagonals ({names}) differ by "
            f"{abs(each.differ_mm):.0f} mm: {abs(each.out_mm):.1f} mm out of square over "
            f"{each.over_mm:.0f} mm."
        )
    if readings.blank:
        yield f"Not measured: {'; '.join(f'{what} (row {row})' for row, what in readings.blank)}."


def _to_do(results: Sequence[Judged]) -> Iterator[Section]:
    """Yield what to fix and what to measure again, as things to tick."""
    for verdict, heading in (("fix", "Fix, worst first"), ("re-check", "Measure again")):
        items = tuple(
            Tick(f"{_named(each)}: {_advice(each)}", ("now mm",))
            for each in results
            if each.verdict == verdict
        )
        if items:
            yield Section(heading, (Ticks(items),))


def _advice(each: Judged) -> str:
    if each.verdict == "re-check":
        return f"{signed(each.reading.off_mm)} mm, limit {each.allowed_mm:.1f}; if it is so, {each.to_do}"
    return each.to_do


def _named(each: Judged) -> str:
    task = each.reading.task
    return f"{task.where}, {task.check}, {task.place}"


def _all(results: Sequence[Judged]) -> Table:
    columns = (
        Column("row", number=True),
        Column("check"),
        Column("where"),
        Column("reads mm", number=True),
        Column("should mm", number=True),
        Column("off mm", number=True),
        Column("limit mm", number=True),
        Column("give or take", number=True),
        Column("verdict"),
        Column("what to do"),
    )
    rows = []
    for each in results:
        task = each.reading.task
        rows.append(
            (
                str(each.reading.row),
                task.check,
                f"{task.where}, {task.place}",
                f"{each.reading.reading_mm:.10g}",
                f"{task.expected_mm:.0f}",
                signed(each.reading.off_mm),
                "" if each.allowed_mm is None else f"{each.allowed_mm:.1f}",
                f"{task.give_or_take_mm:.1f}",
                each.verdict,
                each.to_do,
            )
        )
    return Table(columns, tuple(rows))
