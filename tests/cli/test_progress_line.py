from __future__ import annotations

import io
import sys
import time

import pytest

from packseq.cli.progress import line_of, progress_line
from packseq.cli.solving import Watch
from packseq.standup.progress import Progress


def watching(latest: Progress | None) -> Watch:
    return Watch(time.monotonic() - 12.2, latest)


def test_the_line_tells_stage_best_bound_gap_and_time() -> None:
    # (15 - 12) / 15 = 20 %
    assert line_of(watching(Progress("extra lifts", 15, 12, 12.0)), 60.0) == (
        "12 s of 60: extra lifts: best so far 15, at least 12, gap 20.0%. "
        "Ctrl-C stops here and keeps the best plan."
    )
    assert "walking: best so far 412 m, at least 410 m, gap 0.7%" in line_of(
        watching(Progress("walking_mm", 412_400, 409_600, 1.0)), 60.0
    )


def test_the_line_says_when_there_is_nothing_yet() -> None:
    assert line_of(watching(None), 60.0).startswith("12 s of 60: looking for a first plan. Ctrl-C")
    assert "extra lifts: best so far none yet, at least 2. Ctrl-C" in line_of(
        watching(Progress("extra lifts", None, 2, 1.0)), 60.0
    )


def test_the_line_says_that_the_search_is_stopping() -> None:
    watch = watching(Progress("breaks", 3, 1, 1.0))
    watch.stop.set()
    assert line_of(watch, 60.0).startswith("Stopping. frames stood away from the one before: best so far 3")


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("stream", "shows"), [(Terminal(), True), (io.StringIO(), False)])
def test_only_a_terminal_is_shown_the_line(
    monkeypatch: pytest.MonkeyPatch, stream: io.StringIO, shows: bool
) -> None:
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "200")
    monkeypatch.setattr(sys, "stderr", stream)
    with progress_line(60.0) as show:
        show(watching(Progress("extra lifts", 15, 12, 12.0)))
    assert ("best so far 15" in stream.getvalue()) is shows
