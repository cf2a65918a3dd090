"""Block relocation files as houses: blocks become the frames of a site wall, stacks become packs.

A file gives stacks of numbered blocks that are taken in the order of their numbers. As a site wall, one
straight run stood from its west end, the frames have that order by `reference-first` alone. There is no
spot, so a frame that is set aside goes on top of another pack, as a block goes on top of another stack.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.scenario.model import Crew, Frame, Pack, Place, Scenario, StandChoices

FRAME_MM = 1000.0
SMALL_SETS = ("3x3", "3x4", "3x5", "4x4")
LARGE_SETS = ("3x6", "3x7", "3x8", "4x5", "4x6", "4x7", "5x4", "5x5", "5x6", "5x7", "5x8")


@dataclass(frozen=True)
class Relocation:
    """One file: its stacks, each from the bottom to the top, and its tiers and proven optima.

    `restricted` is the fewest relocations if only blocks above the next one may be moved, `fewest` if any
    block on top may; both with two tiers more than the file fills. None where the list has none.
    """

    name: str
    stacks: tuple[tuple[int, ...], ...]
    tiers: int
    restricted: int | None
    fewest: int | None

    @property
    def house(self) -> House:
        """The file as a house."""
        return house_of_stacks(self.stacks, self.tiers + 2)


def folder() -> Path | None:
    """Return the folder of open data beside the checkout, None where there is none."""
    places = (parent / "shared" / "data" / "relocation" for parent in Path(__file__).resolve().parents)
    return next((place for place in places if place.is_dir()), None)


def relocations(name: str) -> tuple[Relocation, ...]:
    """Return the files of one set, such as 4x5: four tiers, five stacks."""
    data = folder()
    if data is None:
        return ()
    tiers, width = map(int, name.split("x"))
    found = []
    for row in _optima(data, name):
        file = data / name / f"data{tiers}-{width}-{row['instance']}.dat"
        known = {key: int(row[key]) if row[key] else None for key in ("R_Hplus2", "U_Hplus2")}
        label = f"{name} {row['instance']}"
        found.append(Relocation(label, read_stacks(file), tiers, known["R_Hplus2"], known["U_Hplus2"]))
    return tuple(found)


def _optima(data: Path, name: str) -> list[Mapping[str, str]]:
    with (data / "optima.csv").open(encoding="utf-8", newline="") as stream:
        return [row for row in csv.DictReader(stream) if row["set"] == name]


def read_stacks(file: Path) -> tuple[tuple[int, ...], ...]:
    """Return the stacks of a file: after the first line one a line, its height and then its blocks."""
    lines = [tuple(map(int, line.split())) for line in file.read_text(encoding="utf-8").splitlines()]
    count, blocks = lines[0]
    stacks = tuple(line[1 : 1 + line[0]] for line in lines[1 : 1 + count])
    assert sorted(block for stack in stacks for block in stack) == list(range(1, blocks + 1))
    return stacks


def house_of_stacks(stacks: Sequence[Sequence[int]], most_layers: int) -> House:
    """Return the house of some stacks, given from the bottom to the top, that grow to `most_layers`.

    A pack takes one more frame while it has at most `holds` layers, so it grows to one more than that.
    """
    blocks = sorted(block for stack in stacks for block in stack)
    frames = {
        f"F{block}": Frame(
            name=f"F{block}",
            level=1,
            start=(FRAME_MM * place, 0.0),
            end=(FRAME_MM * (place + 1), 0.0),
            height_mm=2400.0,
            thickness_mm=90.0,
            location="external",
            mass_kg=20.0,
            mass_is_estimate=False,
            openings=(),
            row=place + 2,
        )
        for place, block in enumerate(blocks)
    }
    packs = {
        f"P{number}": Pack(
            name=f"P{number}",
            level=1,
            places=(Place((3000.0 * number, -3000.0), 90.0),),
            holds=most_layers - 1,
            layers=tuple((f"F{block}",) for block in reversed(stack)),
            layer_numbers=tuple(range(1, len(stack) + 1)),
            length_mm=FRAME_MM,
            width_mm=2400.0,
        )
        for number, stack in enumerate(stacks, 1)
    }
    length = FRAME_MM * len(blocks)
    scenario = Scenario(
        name="stacks",
        slab=((0.0, -1000.0), (length, -1000.0), (length, 1000.0), (0.0, 1000.0)),
        frames=frames,
        packs=packs,
        crew=Crew(people=2),
        stand=StandChoices(direction="anticlockwise"),
        sha256="0" * 64,
    )
    return derive_house(scenario)
