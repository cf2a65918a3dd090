"""The line that tells how a search is going, on a terminal only."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.live import Live
from rich.text import Text

from packseq.cli.solving import Watch
from packseq.report.words import metres
from packseq.standup.progress import Progress

_NAMES = {
    "extra lifts": "extra lifts",
    "walking_mm": "walking",
    "breaks": "frames stood away from the one before",
    "cost_mm": "extra lifts and walking together",
}


def line_of(watch: Watch, limit_s: float) -> str:
    """Return the line to show now."""
    if watch.stop.is_set():
        return f"Stopping. {doing_now(watch)}"
    doing = doing_now(watch)
    return f"{watch.elapsed_s:.0f} s of {limit_s:g}: {doing}. Ctrl-C stops here and keeps the best plan."


def doing_now(watch: Watch) -> str:
    """Return how far a search is."""
    return "looking for a first plan" if watch.latest is None else _standing(watch.latest)


@contextmanager
def progress_line(
    limit_s: float, line: Callable[[Watch, float], str] = line_of
) -> Iterator[Callable[[Watch], None]]:
    """Give what shows a search on standard error; it shows nothing where that is no terminal."""
    console = Console(stderr=True, markup=False, highlight=False, emoji=False)
    if not console.is_terminal:
        yield lambda _watch: None
        return
    with Live(console=console, transient=True, auto_refresh=False) as live:
        yield lambda watch: live.update(Text(line(watch, limit_s)), refresh=True)


def _standing(progress: Progress) -> str:
    name = _NAMES.get(progress.stage, progress.stage)
    best = "none yet" if progress.value is None else _amount(progress.stage, progress.value)
    words = [f"{name}: best so far {best}"]
    if progress.bound is not None:
        words.append(f"at least {_amount(progress.stage, progress.bound)}")
    if progress.gap is not None:
        words.append(f"gap {progress.gap:.1%}")
    return ", ".join(words)


def _amount(stage: str, value: int) -> str:
    return f"{metres(value)} m" if stage.endswith("_mm") else str(value)
