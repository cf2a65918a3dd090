"""The plan file: ``plan.json`` read with care and written the same way every time."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from packseq.errors import Fault, InputError
from packseq.plan.begin import Begin, LayerNow
from packseq.plan.model import Move, Plan, PlannedSpot, StageResult, Where
from packseq.plan.record import Record
from packseq.scenario.limits import NAME_LENGTH
from packseq.scenario.names import shown

# Far past any real plan: they keep a hostile file from filling the memory.
LARGEST_BYTES = 20_000_000
MOST_ITEMS = 20_000
MOST_FIELDS = 1_000
MOST_FAULTS = 100

_WORDS = {
    "missing": "is missing",
    "extra_forbidden": "is not a field of a plan file",
    "int_type": "must be a whole number",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number",
    "finite_number": "must be a number",
    "string_type": "must be text",
    "tuple_type": "must be a list",
    "literal_error": "must be {expected}",
    "greater_than_equal": "must be at least {ge:.0f}",
    "less_than_equal": "must be at most {le:.0f}",
    "too_long": "must have no more than {max_length} items",
    "string_too_long": "must be no longer than {max_length} characters",
    "string_too_short": "must not be empty",
    "value_error": "{error}",
    "json_invalid": "has characters that are not sound text",
    "model_type": "must be an object with named fields",
    "model_attributes_type": "must be an object with named fields",
    "dict_type": "must be an object with named fields",
}
"""What pydantic calls a fault, and what a person reads."""

_RecordT = TypeVar("_RecordT", bound=Record)


class _BadJsonError(ValueError):
    """JSON that parses but is not wanted; its text says why."""


def read_plan(path: Path) -> Plan:
    """Read a plan file.

    The values are checked for what they are, not for whether the plan keeps the rules:
    that is the replay's part.

    Raises
    ------
    InputError
        With every fault found, up to a hundred.
    """
    data = _json_object(path)
    faults: list[Fault] = []
    items = {key: _list(data, key, path.name, faults) for key in ("moves", "spots", "stages")}
    head = _read(Plan, data | {key: [] for key in items}, "", path.name, faults)
    moves = _read_all(Move, items["moves"], "moves", path.name, faults)
    spots = _read_all(PlannedSpot, items["spots"], "spots", path.name, faults)
    stages = _read_all(StageResult, items["stages"], "stages", path.name, faults)
    if head is None or faults:
        raise InputError(faults)
    return head.model_copy(update={"moves": moves, "spots": spots, "stages": stages})


def plan_json(plan: Plan) -> str:
    """Return the text of a plan file: one line for each move, spot and stage, ending with a newline.

    Fields that say nothing about a move are left out, whole coordinates are written as whole
    numbers, and the same plan gives the same text, character for character.
    """
    head = ["format", "scenario", "scenario_sha256", "status", "direction", "reference", "held_open"]
    data = _plain(plan)
    lines = [f"{_text(key)}: {_text(data[key])}" for key in head]
    lines.append(f'"places": {_text(dict(sorted(data["places"].items())))}')
    for key in ("stages", "spots", "moves"):
        rows = ",\n  ".join(_text(row) for row in data[key])
        lines.append(f"{_text(key)}: [\n  {rows}]" if rows else f"{_text(key)}: []")
    if plan.begins is not None:
        lines.insert(len(head), f'"begins": {_text(data["begins"])}')
    return "{" + ",\n ".join(lines) + "}\n"


def _json_object(path: Path) -> dict[str, Any]:
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise _refused(path, f"cannot be read ({error.strerror})") from error
    if len(raw) > LARGEST_BYTES:
        raise _refused(path, f"is larger than {LARGEST_BYTES // 1_000_000} MB, so it is no plan")
    try:
        data = json.loads(raw.decode("utf-8-sig"), object_pairs_hook=_fields, parse_constant=_refuse_constant)
    except UnicodeDecodeError as error:
        raise _refused(path, f"is not UTF-8 text (byte {error.start + 1})") from error
    except json.JSONDecodeError as error:
        text = f"is not sound JSON: {error.msg} (line {error.lineno}, column {error.colno})"
        raise _refused(path, text) from error
    except RecursionError as error:
        raise _refused(path, "is nested too deeply to be a plan") from error
    except _BadJsonError as error:
        raise _refused(path, str(error)) from error
    except ValueError as error:  # a number of thousands of digits
        raise _refused(path, "has a number that is far too long") from error
    if not isinstance(data, dict):
        raise _refused(path, "is not a plan: it must be one JSON object")
    return data


def _refused(path: Path, text: str) -> InputError:
    return InputError([Fault(path.name, text)])


def _refuse_constant(text: str) -> NoReturn:
    raise _BadJsonError(f"has {text} where a number should be")


def _fields(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Make one JSON object, refusing a field given twice: readers would differ on which counts."""
    if len(pairs) > MOST_FIELDS:
        raise _BadJsonError(f"has more than {MOST_FIELDS} fields in one place")
    counted = Counter(key for key, _ in pairs)
    for key, count in counted.items():
        if count > 1:
            raise _BadJsonError(f"gives the field {shown(key)} twice in one place")
    for key, value in pairs:
        if isinstance(value, list) and len(value) > MOST_ITEMS:
            raise _BadJsonError(f"has more than {MOST_ITEMS} items in {shown(key)}")
    return dict(pairs)


def _list(data: dict[str, Any], key: str, file: str, faults: list[Fault]) -> list[Any]:
    if key not in data:
        faults.append(Fault(file, "is missing", column=key))
        return []
    value = data[key]
    if not isinstance(value, list):
        faults.append(Fault(file, "must be a list", column=key))
        return []
    return value


def _read_all(
    model: type[_RecordT], values: list[Any], key: str, file: str, faults: list[Fault]
) -> tuple[_RecordT, ...]:
    records = []
    for number, value in enumerate(values, 1):
        if len(faults) >= MOST_FAULTS:
            break
        record = _read(model, value, f"{key}.{number}", file, faults)
        if record is not None:
            records.append(record)
    return tuple(records)


def _read(model: type[_RecordT], value: object, key: str, file: str, faults: list[Fault]) -> _RecordT | None:
    """Read one record on its own, so that a file of nothing but faults stays cheap to refuse."""
    try:
        # Written out again because strict reading takes a list for a tuple only from JSON.
        return model.model_validate_json(json.dumps(value), strict=True)
    except ValidationError as error:
        details = error.errors(include_url=False, include_input=False)
        faults.extend(_fault(detail, key, file) for detail in details[:MOST_FAULTS])
        return None


def _fault(detail: ErrorDetails, key: str, file: str) -> Fault:
    column = ".".join([key, *map(_key, detail["loc"])]).strip(".")
    return Fault(file, _plain_words(detail), column=column or None)


def _key(part: str | int) -> str:
    """Return one part of a dotted key; items count from 1, as moves do."""
    if isinstance(part, int):
        return str(part + 1)
    return part if part.isidentifier() and len(part) <= NAME_LENGTH else shown(part)


def _plain_words(detail: ErrorDetails) -> str:
    return _WORDS.get(detail["type"], "is not what a plan file has here").format(**detail.get("ctx", {}))


def _plain(record: Record) -> dict[str, Any]:
    data = {}
    for name, field in type(record).model_fields.items():
        value = getattr(record, name)
        if isinstance(record, Move | Where | Begin | LayerNow) and value is None:
            continue
        if isinstance(record, PlannedSpot) and not field.is_required() and value == field.default:
            continue
        data[field.alias or name] = _value(value)
    return data


def _value(value: object) -> object:
    if isinstance(value, Record):
        return _plain(value)
    if isinstance(value, dict):
        return {key: _value(inner) for key, inner in value.items()}
    if isinstance(value, tuple):
        return [_value(inner) for inner in value]
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value


def _text(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)
