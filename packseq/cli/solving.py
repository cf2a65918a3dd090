"""A search that can be watched and stopped."""

from __future__ import annotations

import signal
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Future, wait
from contextlib import contextmanager
from dataclasses import dataclass, field
from types import FrameType
from typing import TypeVar

from packseq.standup.progress import Listener, Progress

_LOOK_S = 0.1
"""How often the screen is brought up to date and Ctrl-C is heard."""


def out_of_time(what: str) -> str:
    """Return what is said where the clock ended a search for a plan, a load..., not its work."""
    return (
        f"The time ran out before the search had done its work: another run may give another {what}."
        " A longer --limit, or a machine less busy, gives the same one every time."
    )


@dataclass
class Watch:
    """What is known of a search while it runs: written by its thread, read by the screen's."""

    began_s: float
    latest: Progress | None = None
    stop: threading.Event = field(default_factory=threading.Event)

    def hear(self, progress: Progress) -> None:
        """Take a report from the search."""
        self.latest = progress

    @property
    def elapsed_s(self) -> float:
        """Seconds since the search began."""
        return time.monotonic() - self.began_s


Found = TypeVar("Found")


def run_search(
    search: Callable[[Listener, threading.Event], Found], show: Callable[[Watch], None]
) -> tuple[Found, bool]:
    """Run a search to its end, or until Ctrl-C stops it; tell also whether it was stopped.

    The search runs in a thread of its own, because a solver that is busy in native code would
    let Ctrl-C wait. The first Ctrl-C asks it to stop; a second one ends the program.

    Parameters
    ----------
    search
        Takes a listener and the event that asks it to stop, and returns the best it has.
    show
        Called about ten times a second while the search runs.

    Raises
    ------
    PackseqError
        Whatever the search raises.
    """
    watch = Watch(time.monotonic())
    future: Future[Found] = Future()

    def work() -> None:
        try:
            future.set_result(search(watch.hear, watch.stop))
        except BaseException as error:  # noqa: BLE001 - carried over to the thread that waits
            future.set_exception(error)

    with _first_interrupt_sets(watch.stop):
        threading.Thread(target=work, name="search", daemon=True).start()
        while not future.done():
            wait([future], timeout=_LOOK_S)
            show(watch)
    return future.result(), watch.stop.is_set()


@contextmanager
def _first_interrupt_sets(stop: threading.Event) -> Iterator[None]:
    before = signal.getsignal(signal.SIGINT)

    def ask_to_stop(_signal: int, _frame: FrameType | None) -> None:
        # In this order: a second one that comes at once must find the first handler back.
        signal.signal(signal.SIGINT, before)
        stop.set()

    signal.signal(signal.SIGINT, ask_to_stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
