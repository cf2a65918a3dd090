"""The journal's file: read with every fault told, and added to one whole line at a time."""

from __future__ import annotations

import json
import os
from collections.abc import Container, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

from pydantic import ValidationError

from packseq.day.events import EVENT, Begun, Event, Found, OnHeap, SetAside, Undone, subject
from packseq.day.names import NameKind, Names
from packseq.errors import Fault, InputError, OutputError
from packseq.scenario.names import shown

LARGEST_BYTES = 5_000_000
"""No day's journal is larger; the crew's page refuses the same."""

MOST_FAULTS = 100

_WORDS = {
    "missing": "is missing",
    "extra_forbidden": "is not a field of this event",
    "literal_error": "must be {expected}",
    "string_type": "must be text",
    "string_too_long": "must be no longer than {max_length} characters",
    "int_type": "must be a whole number",
    "float_type": "must be a number",
    "finite_number": "must be a number",
    "greater_than_equal": "must be at least {ge:g}",
    "less_than_equal": "must be at most {le:g}",
    "too_long": "must have {max_length} items",
    "too_short": "must have {min_length} items",
    "tuple_type": "must be a list",
    "value_error": "{error}",
    "union_tag_invalid": "its event is not known",
    "union_tag_not_found": "it names no event",
    "model_type": "must be an object with named fields",
    "model_attributes_type": "must be an object with named fields",
}
"""What pydantic calls a fault, and what a person reads."""


@dataclass(frozen=True, slots=True)
class Noted:
    """A sound line of a journal, and its row in the file, from 1."""

    row: int
    event: Event


@dataclass(frozen=True, slots=True)
class Journal:
    """A journal as read.

    Parameters
    ----------
    lines
        The sound lines in the order of the file.
    faults
        What is wrong with the others: each is left out.
    torn
        Whether the last line was cut off while it was written. It is left out.
    remarks
        What is to be told beside that.
    """

    lines: tuple[Noted, ...] = ()
    faults: tuple[Fault, ...] = ()
    torn: bool = False
    remarks: tuple[str, ...] = ()

    @property
    def begun(self) -> bool:
        """Whether it says which house it is of."""
        return any(isinstance(noted.event, Begun) for noted in self.lines)


class _BadLineError(ValueError):
    """A line that is no event; its text says why."""


def read_journal(path: Path, names: Names) -> Journal:
    """Read a journal; one that is not there yet is empty.

    Parameters
    ----------
    path
        The file.
    names
        The house that it must be of, and the names that its lines may use.

    Raises
    ------
    InputError
        When the file cannot be read at all, or is the journal of another house.
    """
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        return Journal()
    except OSError as error:
        raise InputError([Fault(path.name, f"cannot be read ({error.strerror})")]) from error
    if len(raw) > LARGEST_BYTES:
        text = f"is larger than {LARGEST_BYTES // 1_000_000} MB, so it is no journal"
        raise InputError([Fault(path.name, text)])
    return _journal(raw.removeprefix(b"\xef\xbb\xbf"), path.name, names)


def _journal(raw: bytes, file: str, names: Names) -> Journal:
    lines: list[Noted] = []
    faults: list[Fault] = []
    rows = raw.split(b"\n")
    torn = False
    for row, text in enumerate(rows, 1):
        if not text.strip():
            continue
        try:
            data = _json(text)
        except _BadLineError as error:
            if row == len(rows):
                torn = True
            else:
                faults.append(Fault(file, f"{error}; the line is left out", row=row))
            continue
        try:
            lines.append(Noted(row, _event(data, names)))
        except _BadLineError as error:
            faults.append(Fault(file, f"{error}; the line is left out", row=row))
    return Journal(tuple(lines), _not_too_many(faults, file), torn, _of_this_house(lines, file, names))


def _not_too_many(faults: Sequence[Fault], file: str) -> tuple[Fault, ...]:
    if len(faults) <= MOST_FAULTS:
        return tuple(faults)
    more = Fault(file, f"{len(faults) - MOST_FAULTS} more lines are left out")
    return (*faults[:MOST_FAULTS], more)


def _json(text: bytes) -> dict[str, Any]:
    """Return the object that a line is.

    Raises
    ------
    _BadLineError
        When it is none.
    """
    try:
        data = json.loads(text.decode("utf-8"), parse_constant=_refuse_constant)
    except (ValueError, RecursionError) as error:
        raise _BadLineError("is not one sound JSON object") from error
    if not isinstance(data, dict):
        raise _BadLineError("is not one sound JSON object")
    return data


def _refuse_constant(text: str) -> NoReturn:
    raise ValueError(text)


def _event(data: dict[str, Any], names: Names) -> Event:
    try:
        # Written out again because strict reading takes a list for a tuple only from JSON.
        event = EVENT.validate_json(json.dumps(data))
    except ValidationError as error:
        detail = error.errors(include_url=False, include_input=False)[0]
        # The first part of the place is the event's own name.
        column = ".".join(str(part) for part in detail["loc"][1:])
        words = _WORDS.get(detail["type"], "is not what a journal has here").format(**detail.get("ctx", {}))
        field = f"{column if column.isascii() and column.isprintable() else shown(column)} " if column else ""
        raise _BadLineError(f"{field}{words}") from error
    wrong = name_fault_of(event, names)
    if wrong is not None:
        raise _BadLineError(wrong)
    return event


def name_fault_of(event: Event, names: Names) -> str | None:
    """Return what is wrong with the names in a line, None when there are such things.

    Names count as they are spelled, as on the crew's page.
    """
    frame, pack = subject(event)
    where = event.to if isinstance(event, SetAside) else event.where if isinstance(event, Found) else None
    named: tuple[tuple[NameKind, str | None, Container[str]], ...] = (
        ("frame", frame, names.frames),
        ("pack", pack, names.packs),
        ("pack", None if where is None else where.pack, names.packs),
        ("spot", None if where is None else where.spot, names.spots),
    )
    for what, name, known in named:
        if name is not None and name not in known:
            return names.unknown(what, name) or f"{what} {shown(name)} is not spelled so"
    return None if where is None or frame is None else _level_fault(frame, where, names)


def _level_fault(frame: str, where: OnHeap, names: Names) -> str | None:
    """Return that a frame cannot lie where a line has it, on a pack or spot of another level."""
    heap = names.packs[where.pack] if where.pack is not None else names.spots[where.spot or ""]
    level = names.frames[frame].level
    if heap.level == level:
        return None
    return f"{where} is on level {heap.level}, {frame} is of level {level}"


def _of_this_house(lines: Sequence[Noted], file: str, names: Names) -> tuple[str, ...]:
    begun = [noted.event for noted in lines if isinstance(noted.event, Begun)]
    other = [event.scenario for event in begun if event.scenario != names.scenario]
    if other:
        raise InputError([Fault(file, f"is the journal of another house: {shown(other[0])}")])
    if any(event.scenario_sha256 != names.sha256 for event in begun):
        return ("The journal was begun with other files of this house: see that its names still fit.",)
    return ()


def line_text(event: Event) -> str:
    """Return a line of the journal, ended by a line feed."""
    data = event.model_dump(mode="json", by_alias=True, exclude_none=True)
    first = {key: data.pop(key) for key in ("format", "at", "event")}
    note = {"note": data.pop("note")} if "note" in data else {}
    return json.dumps(first | data | note, ensure_ascii=False, separators=(",", ":")) + "\n"


def append(path: Path, event: Event) -> None:
    """Add a line to a journal and have it on the disk before returning.

    The line goes out in one write. When the last line of the file was torn, it is ended first, so
    that nothing is glued to it.

    Raises
    ------
    OutputError
        When the line cannot be written.
    """
    try:
        # Without a buffer, so that one call is one write.
        with path.open("ab", buffering=0) as stream:
            line = (b"\n" if _is_torn(path) else b"") + line_text(event).encode("utf-8")
            written = stream.write(line)
            os.fsync(stream.fileno())
    except OSError as error:
        raise OutputError(f"{path}: cannot be written ({error.strerror})") from error
    if written != len(line):
        raise OutputError(f"{path}: the line was not written whole: is the disk full?")


def _is_torn(path: Path) -> bool:
    """Tell whether a file ends in the middle of a line."""
    with path.open("rb") as stream:
        if stream.seek(0, os.SEEK_END) == 0:
            return False
        stream.seek(-1, os.SEEK_END)
        return stream.read(1) != b"\n"


def counting(lines: Sequence[Noted]) -> tuple[Noted, ...]:
    """Return the lines that count: those taken back, and those that take back, are left out."""
    left: list[Noted] = []
    for noted in lines:
        event = noted.event
        if not isinstance(event, Undone):
            left.append(noted)
            continue
        place = taken_back(left, event)
        if place is not None:
            del left[place]
    return tuple(left)


def taken_back(lines: Sequence[Noted], undone: Undone) -> int | None:
    """Return the place of the line that an `undone` takes back, None where there is none."""
    for place in range(len(lines) - 1, -1, -1):
        event = lines[place].event
        if event.event == undone.what and subject(event) == subject(undone):
            return place
    return None
