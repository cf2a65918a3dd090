"""``packseq compare``."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import typer

from packseq.cli.against import Against, against_best_load
from packseq.cli.choices import read_house
from packseq.cli.progress import doing_now, progress_line
from packseq.cli.solving import Watch, run_search
from packseq.cli.streams import write_json, write_report
from packseq.compare.outcome import Outcome
from packseq.compare.trying import Comparison, compare_choices
from packseq.errors import LimitError, NoPlanError
from packseq.report.alternatives import unplanned_alternatives
from packseq.report.compared import compared_choices
from packseq.report.comparedata import comparison_document
from packseq.report.sheets import section_tables
from packseq.standup.progress import Listener

BEST_LOAD = "the packs against the best load"
LOAD_SHARE = 0.5
"""Time for the best load, and for changes to the delivered packs, beside that for the choices."""


@dataclass
class Turn:
    """Which row is searched: written by the search's thread, read by the screen's."""

    words: str = ""

    def take(self, name: str, number: int, count: int) -> None:
        """Take the next row."""
        self.words = f"{name} ({number} of {count})" if count > 1 else name


def compare_scenario(folder: Path, *, limit_s: float, as_json: bool) -> None:
    """Show the same job under other choices; the exit code is 3 or 4 when no row has a plan.

    Raises
    ------
    InputError
        With every fault of the scenario.
    """
    from packseq.standup.search import plan_standup  # noqa: PLC0415 - the solver is slow to load

    house = read_house(folder)
    turn = Turn()

    def search_all(listener: Listener, stop: threading.Event) -> tuple[Comparison, Against | None]:
        comparison = compare_choices(
            house,
            lambda changed, share_s: plan_standup(
                changed, limit_s=share_s, seed=0, listener=listener, stop=stop
            ),
            limit_s=limit_s,
            stopped=stop.is_set,
            listener=turn.take,
        )
        own = comparison.own
        if own.done is None or stop.is_set():
            return comparison, None
        turn.take(BEST_LOAD, 1, 1)
        plan = own.done.plan.model_copy(update={"stages": own.stages})
        return comparison, against_best_load(house, plan, LOAD_SHARE * limit_s, listener, stop)

    whole_s = (1 + LOAD_SHARE) * limit_s
    with progress_line(whole_s, lambda watch, limit_s: line_of(watch, limit_s, turn.words)) as show:
        (comparison, against), stopped = run_search(search_all, show)
    unplanned = tuple(_unplanned(comparison))
    if as_json:
        document = comparison_document(house, comparison, unplanned, stopped=stopped)
        write_json({**document, "load": None if against is None else against.document})
    else:
        *sections, care = compared_choices(house, comparison, unplanned, stopped=stopped)
        load = () if against is None else (section_tables(against.section),)
        write_report((*sections, *load, care))
    if all(row.done is None for row in comparison.rows):
        impossible = all(row.ending == "no plan" for row in comparison.rows)
        raise typer.Exit(NoPlanError.exit_code if impossible else LimitError.exit_code)


def line_of(watch: Watch, limit_s: float, turn: str) -> str:
    """Return the line to show now."""
    if watch.stop.is_set():
        return f"Stopping. {turn}"
    return (
        f"{watch.elapsed_s:.0f} s of {limit_s:g}: {turn}: {doing_now(watch)}. "
        "Ctrl-C stops here and shows what there is."
    )


def _unplanned(comparison: Comparison) -> Iterator[Outcome]:
    """Yield what a crew would do unplanned, on the spots and landing places of the job as it is."""
    if comparison.own.done is None:
        return
    for other in unplanned_alternatives(comparison.own.done):
        name = f"Unplanned: a crew that {other.how}"
        yield Outcome(name, None, other.done, reason=other.stuck, planned=False)
