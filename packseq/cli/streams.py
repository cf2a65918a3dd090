"""Standard output and standard error: what goes on them, on whatever console."""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rich.console import Console, RenderableType

PIPED_WIDTH = 200
"""Characters in a line when the output is not a terminal."""


def show_any_text() -> None:
    """Make both streams spell out what their encoding lacks, so that no name ends a command."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def write_aside(lines: Iterable[str]) -> None:
    """Write lines on standard error, one for each fault; control characters are spelled out."""
    for line in lines:
        plain = "".join(letter if letter.isprintable() else ascii(letter)[1:-1] for letter in line)
        print(plain, file=sys.stderr)  # noqa: T201


def write_report(parts: Iterable[RenderableType]) -> None:
    """Write the parts of a report on standard output, a blank line between them."""
    from rich.console import Console  # noqa: PLC0415

    console = Console(markup=False, highlight=False, emoji=False)
    if console.is_terminal:
        _print_apart(console, parts)
        return
    text = io.StringIO()
    plain = Console(file=text, markup=False, highlight=False, emoji=False, width=PIPED_WIDTH)
    _print_apart(plain, parts)
    for line in text.getvalue().splitlines():
        print(line.rstrip())  # noqa: T201


def _print_apart(console: Console, parts: Iterable[RenderableType]) -> None:
    for number, part in enumerate(parts):
        if number:
            console.print()
        console.print(part)


def write_json(document: dict[str, Any]) -> None:
    """Write a document on standard output, in ASCII so that it is sound JSON in any encoding."""
    print(json.dumps(document, indent=1))  # noqa: T201
