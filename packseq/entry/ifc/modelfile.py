"""Opening a model: size, form and schema are looked at before anything is loaded."""

from __future__ import annotations

import re
from pathlib import Path

import ifcopenshell
from ifcopenshell.util.unit import calculate_unit_scale

from packseq.entry.ifc.measured import Scale
from packseq.errors import Fault, InputError

MOST_BYTES = 100_000_000
"""Most bytes of a model that are read; open, it takes some five times as much (measured on a house)."""

SCHEMAS = ("IFC2X3", "IFC4")
_HEAD_BYTES = 20_000
_TAIL_BYTES = 2000
_SCHEMA = re.compile(rb"FILE_SCHEMA\s*\(\s*\(\s*'([^']{1,40})'", re.IGNORECASE)
_MM_IN_M = 1000.0
_G_IN_KG = 1000.0


def open_model(path: Path) -> ifcopenshell.file:
    """Open a model in IFC2x3 or IFC4, as a STEP file (ISO 10303-21).

    Raises
    ------
    InputError
        When it is missing, empty, too large, cut short, no model, or in another schema.
    """
    try:
        size = path.stat().st_size
        with path.open("rb") as stream:
            head = stream.read(_HEAD_BYTES)
            stream.seek(max(0, size - _TAIL_BYTES))
            tail = stream.read()
    except FileNotFoundError as error:
        raise _unreadable(path, "there is no such file") from error
    except OSError as error:
        raise _unreadable(path, f"cannot be read: {error.strerror}") from error
    wrong = _wrong_form(size, head, tail)
    if wrong is not None:
        raise _unreadable(path, wrong)
    try:
        model = ifcopenshell.open(path)
    except Exception as error:
        raise _unreadable(path, f"cannot be read as a model ({error})") from error
    if not isinstance(model, ifcopenshell.file) or not model.by_type("IfcProject"):
        raise _unreadable(path, "holds no project: the model is empty")
    return model


def scale_of(model: ifcopenshell.file, path: Path) -> Scale:
    """Return how many mm and kg the model's units are.

    Raises
    ------
    InputError
        When the model does not say in which unit its lengths are.
    """
    try:
        metres = calculate_unit_scale(model, "LENGTHUNIT")
        grams = calculate_unit_scale(model, "MASSUNIT")
    except (AttributeError, KeyError, TypeError, ValueError, RuntimeError) as error:
        raise _unreadable(path, "does not say in which units it is drawn") from error
    assigned = [unit for units in model.by_type("IfcUnitAssignment") for unit in units.Units]
    kinds = {getattr(unit, "UnitType", None) for unit in assigned}
    if "LENGTHUNIT" not in kinds or not metres > 0:
        raise _unreadable(path, "does not say in which unit its lengths are")
    return Scale(metres * _MM_IN_M, grams / _G_IN_KG if "MASSUNIT" in kinds else 1.0)


def _wrong_form(size: int, head: bytes, tail: bytes) -> str | None:
    """Tell what is wrong with a file's size or form, or None."""
    if size == 0:
        return "is empty"
    if size > MOST_BYTES:
        return f"has {size:,} bytes; at most {MOST_BYTES:,} are read"
    return _wrong_head(head) or (
        None if b"END-ISO-10303-21" in tail else "is cut short: its last line is missing"
    )


def _wrong_head(head: bytes) -> str | None:
    if head.startswith(b"PK"):
        return "is packed (a zip file); unpack it first"
    if not head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"ISO-10303-21;"):
        return "is no IFC model: it does not begin with ISO-10303-21;"
    schema = _SCHEMA.search(head)
    if schema is None:
        return "does not say in which schema it is written"
    name = schema[1].decode("ascii", "replace").upper()
    if name not in SCHEMAS:
        return f"is written in the schema {name}; {' and '.join(SCHEMAS)} are read: export it as one of these"
    return None


def _unreadable(path: Path, text: str) -> InputError:
    return InputError([Fault(path.name, text)])
