"""Numbers on the command line that must lie in a range."""

from __future__ import annotations

from collections.abc import Callable

import typer


def between(least: float, most: float) -> Callable[[float | None], float | None]:
    """Return what refuses a number outside a range, and one that is no number at all; None passes."""

    def check(value: float | None) -> float | None:
        # Written so that "nan" is refused too.
        if value is not None and not least <= value <= most:
            raise typer.BadParameter(f"must be from {least:g} to {most:g}")
        return value

    return check


def each_between(least: float, most: float) -> Callable[[list[float] | None], list[float] | None]:
    """Return what refuses, in an option that may be given several times, what `between` refuses in one."""
    one = between(least, most)

    def check(values: list[float] | None) -> list[float] | None:
        for value in values or ():
            one(value)
        return values

    return check
