"""The search over states on the open block relocation files, set by set. Run by hand.

python tests/benchmarks/tight.py [--sets 3x3,4x5] [--files N] [--limit S]

Each file is a site wall whose packs take frames on top, with no spot; see tests/standup/relocation_files.py.
A plan counts only when the check has replayed it. `U` is the proven fewest, `R` the proven fewest if only
blocks above the next one may be moved; both from the list beside the files.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from rich.console import Console
from rich.table import Table
from showing import empty_table

sys.path.insert(0, str(Path(__file__).parents[1] / "standup"))

from relocation_files import LARGE_SETS, SMALL_SETS, Relocation, relocations

from packseq.check import replay
from packseq.plan.build import build_plan
from packseq.standup.tight.fewest import fewest_by_states


@dataclass(frozen=True, slots=True)
class Solved:
    """One file and what came of it; `lifts` is None without a plan."""

    file: Relocation
    lifts: int | None
    bound: int
    seconds: float

    @property
    def proven(self) -> bool:
        """Whether the lifts are proven the fewest."""
        return self.lifts == self.bound


def solve(file: Relocation, limit_s: float) -> Solved:
    """Solve one file and replay its plan."""
    house = file.house
    began_s = time.perf_counter()
    found = fewest_by_states(house, limit_s=limit_s)
    seconds = time.perf_counter() - began_s
    if found.steps is not None:
        places = {name: pack.places[0] for name, pack in house.scenario.packs.items()}
        done = replay(house, build_plan(house, found.steps, spots={}, places=places))
        if not done.kept or done.cost.extra_lifts != found.extra_lifts:
            raise AssertionError(f"{file.name}: the search and the check disagree")
    return Solved(file, found.extra_lifts, found.bound, seconds)


def relocation_table(sets: Sequence[str], files: int, limit_s: float) -> Table:
    """Solve files of each set and sum up what came of them."""
    columns = ("set", "files", "proven", "as U", "over U", "over R", "no plan", "mean", "mean U", "mean R")
    table = empty_table(f"Relocation files, limit {limit_s:g} s a file", *columns, "mean s", "most s")
    for name in sets:
        solved = [solve(file, limit_s) for file in relocations(name)[:files]]
        if not solved:
            raise SystemExit(f"no files of {name} in shared/data/relocation beside the checkout")
        table.add_row(name, str(len(solved)), *_counts(solved), *_means(solved), *_seconds(solved))
    return table


def _counts(solved: Sequence[Solved]) -> list[str]:
    pairs = [
        (each.lifts, each.file.fewest, each.file.restricted) for each in solved if each.lifts is not None
    ]
    counts = (
        sum(each.proven for each in solved),
        sum(lifts == fewest for lifts, fewest, _ in pairs),
        sum(fewest is not None and lifts > fewest for lifts, fewest, _ in pairs),
        sum(restricted is not None and lifts > restricted for lifts, _, restricted in pairs),
        sum(each.lifts is None for each in solved),
    )
    known = [each for each in solved if each.file.fewest is not None]
    wrong = [each.file.name for each in known if each.bound > (each.file.fewest or 0)]
    if wrong:
        raise AssertionError(f"a bound above the proven fewest: {wrong}")
    return [str(count) for count in counts]


def _means(solved: Sequence[Solved]) -> list[str]:
    columns = (
        [each.lifts for each in solved],
        [each.file.fewest for each in solved],
        [each.file.restricted for each in solved],
    )
    return [_mean([value for value in column if value is not None]) for column in columns]


def _mean(values: Sequence[int]) -> str:
    return f"{statistics.mean(values):.2f}" if values else "-"


def _seconds(solved: Sequence[Solved]) -> list[str]:
    seconds = [each.seconds for each in solved]
    return [f"{statistics.mean(seconds):.1f}", f"{max(seconds):.1f}"]


def main() -> None:
    """Measure the sets asked for and print their table."""
    parser = argparse.ArgumentParser(description="The search over states on block relocation files.")
    parser.add_argument("--sets", default=",".join((*SMALL_SETS, *LARGE_SETS)), help="such as 3x3,4x5")
    parser.add_argument("--files", type=int, default=20, help="how many files of each set")
    parser.add_argument("--limit", type=float, default=60.0, help="seconds for each file")
    asked = parser.parse_args()
    Console(width=130).print(relocation_table(asked.sets.split(","), asked.files, asked.limit))


if __name__ == "__main__":
    main()
