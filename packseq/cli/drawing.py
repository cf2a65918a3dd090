"""``packseq draw``."""

from __future__ import annotations

from pathlib import Path

from rich.console import RenderableType
from rich.text import Text

from packseq.cli.choices import read_house
from packseq.cli.streams import write_aside, write_json, write_report
from packseq.cli.writing import refuse_early
from packseq.drawing.floorplan import plan_drawing, plan_view, shown_as_entered
from packseq.drawing.sketch import SKETCH_KEY, plan_sketch
from packseq.files import write_whole
from packseq.house.model import House
from packseq.report.layout import paragraph, section

SKETCH_COLUMNS = 100
"""Most characters in a line of a sketch."""


def draw_scenario(folder: Path, out: Path | None, *, force: bool, as_json: bool) -> None:
    """Draw what was entered: as a sketch in the terminal, and as SVG where a file is named.

    Raises
    ------
    InputError
        With every fault of the scenario.
    OutputError
        When a file cannot be written; then none is.
    """
    house = read_house(folder)
    files = {} if out is None else level_files(out, _levels(house))
    for file in files.values():
        refuse_early(file, folder, force=force)
    for level, file in files.items():
        write_whole(file, plan_drawing(house, level).svg() + "\n", force=force)
        write_aside([f"The drawing is in {file}"])
    if as_json:
        write_json(
            {"scenario": house.scenario.name, "levels": [_document(house, level) for level in _levels(house)]}
        )
    else:
        write_report(_sketches(house))


def level_files(out: Path, levels: list[int]) -> dict[int, Path]:
    """Return the file for the drawing of each level: `out` itself where there is only one.

    With several, the level's number goes before the ending: ``plan-level-1.svg``.
    """
    if len(levels) == 1:
        return {levels[0]: out}
    return {level: out.with_name(f"{out.stem}-level-{level}{out.suffix}") for level in levels}


def _levels(house: House) -> list[int]:
    return [level.level for level in house.levels]


def _document(house: House, level: int) -> dict[str, object]:
    shown = shown_as_entered(house, level)
    return {
        "level": level,
        "one_to": plan_view(shown).one_to,
        "svg": plan_drawing(house, level).svg(),
        "sketch": plan_sketch(shown, SKETCH_COLUMNS),
    }


def _sketches(house: House) -> list[RenderableType]:
    several = len(house.levels) > 1
    parts = [
        section(
            f"{house.scenario.name}, level {level}" if several else house.scenario.name,
            Text("\n".join(plan_sketch(shown_as_entered(house, level), SKETCH_COLUMNS)), no_wrap=True),
        )
        for level in _levels(house)
    ]
    return [*parts, paragraph(SKETCH_KEY)]
