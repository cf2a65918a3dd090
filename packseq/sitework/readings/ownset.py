"""A tolerance set of one's own, from a TOML file."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from packseq.errors import Fault, InputError
from packseq.scenario.files import read_text
from packseq.scenario.names import shown
from packseq.sitework.readings.tolerances import CHECKS, SETS, Check, Limit, ToleranceSet

_NUMBERS = {"within_mm": 1000.0, "over_mm": 1_000_000.0, "most_mm": 1000.0}
"""Keys that hold numbers above 0, and the most that each may be."""

_KEYS = (*_NUMBERS, "pro_rated", "source")


def tolerance_set(name_or_file: str) -> ToleranceSet:
    """Return a published set by its name, or one's own from a TOML file.

    Raises
    ------
    InputError
        When it is neither, or with every fault of the file.
    """
    if name_or_file in SETS:
        return SETS[name_or_file]
    path = Path(name_or_file)
    if path.suffix != ".toml":
        near = difflib.get_close_matches(name_or_file, SETS, n=1)
        hint = f"did you mean {near[0]}?" if near else f"the sets are {', '.join(SETS)}."
        text = f"there is no tolerance set of that name; {hint} A set of your own is a .toml file"
        raise InputError([Fault(name_or_file, text)])
    return own_set(path)


def own_set(path: Path) -> ToleranceSet:
    """Read a set of one's own: a name, and a table for each check that has a limit.

    Raises
    ------
    InputError
        With every fault of the file.
    """
    try:
        content = tomllib.loads(read_text(path))
    except tomllib.TOMLDecodeError as error:
        raise InputError([Fault(path.name, f"is no TOML: {error}")]) from error
    faults: list[Fault] = []
    limits: dict[Check, Limit] = {}
    name = content.pop("name", path.stem)
    if not isinstance(name, str) or not name.strip():
        faults.append(Fault(path.name, "must be text", column="name"))
    for key, table in content.items():
        check = next((each for each in CHECKS if each == key), None)
        if check is None:
            faults.append(Fault(path.name, f"is no check; the checks are {', '.join(CHECKS)}", column=key))
        elif not isinstance(table, dict):
            faults.append(Fault(path.name, "must be a table such as [plumb]", column=key))
        else:
            own = _table_faults(path.name, check, table)
            faults += own
            if not own:
                limits[check] = _limit(table, f"own set, {path.name}")
    if not limits and not faults:
        faults.append(Fault(path.name, "has no check with a limit"))
    if faults:
        raise InputError(faults)
    return ToleranceSet(str(name), MappingProxyType(limits))


def _table_faults(file: str, check: Check, table: Mapping[str, Any]) -> list[Fault]:
    faults = [
        Fault(file, f"there is no such key; the keys are {', '.join(_KEYS)}", column=f"{check}.{key}")
        for key in table
        if key not in _KEYS
    ]
    if "within_mm" not in table:
        faults.append(Fault(file, "is missing", column=f"{check}.within_mm"))
    for key, most in _NUMBERS.items():
        value = table.get(key)
        if value is None:
            continue
        number = isinstance(value, int | float) and not isinstance(value, bool)
        if not number or not 0 < value <= most:
            text = f"{shown(str(value))} must be a number above 0, at most {most:g}"
            faults.append(Fault(file, text, column=f"{check}.{key}"))
    if not isinstance(table.get("pro_rated", False), bool):
        faults.append(Fault(file, "must be true or false", column=f"{check}.pro_rated"))
    if "over_mm" not in table and ("most_mm" in table or table.get("pro_rated") is True):
        faults.append(Fault(file, "needs over_mm as well", column=f"{check}.within_mm"))
    return faults


def _limit(table: Mapping[str, Any], source: str) -> Limit:
    def number(key: str) -> float | None:
        value = table.get(key)
        return None if value is None else float(value)

    return Limit(
        within_mm=float(table["within_mm"]),
        over_mm=number("over_mm"),
        most_mm=number("most_mm"),
        pro_rated=bool(table.get("pro_rated", False)),
        source=str(table.get("source", source)),
    )
