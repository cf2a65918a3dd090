"""Reading site.toml: its text to a checked site, with every fault in trade words."""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from packseq.errors import Fault
from packseq.scenario.files import SITE
from packseq.scenario.limits import MOST_LINE_LENGTH
from packseq.scenario.loadtable import LoadTable
from packseq.scenario.names import KnownNames, label, name_key, shown
from packseq.scenario.site import (
    CrewTable,
    DeckTable,
    GapTable,
    NoGoTable,
    PackTable,
    Site,
    SlabTable,
    SpotTable,
    StandTable,
    TimeTable,
)
from packseq.scenario.sitevalues import KnownFrames, SiteTable

_TABLES: Mapping[str, type[SiteTable]] = {
    "slab": SlabTable,
    "stand": StandTable,
    "crew": CrewTable,
    "time": TimeTable,
    "pack": PackTable,
    "spot": SpotTable,
    "gap": GapTable,
    "no_go": NoGoTable,
    "load": LoadTable,
    "deck": DeckTable,
}
_REPEATED = ("pack", "spot", "gap", "no_go", "deck")
_WORDS = {
    "missing": "not given",
    "float_type": "must be a number",
    "finite_number": "must be a finite number",
    "bool_type": "must be true or false",
    "int_type": "must be a whole number",
    "string_type": "must be text in quotes",
    "tuple_type": "must be a list in square brackets",
    "model_type": "must be a table",
    "literal_error": "must be {expected}",
    "greater_than": "must be more than {gt:.10g}",
    "greater_than_equal": "must be at least {ge:.10g}",
    "less_than_equal": "must be at most {le:.10g}",
    "too_short": "must hold at least {min_length}",
    "too_long": "must hold at most {max_length}, not {actual_length}",
    "plain": "{text}",
}
_SHOWS_INPUT = frozenset({"literal_error", "greater_than", "greater_than_equal", "less_than_equal"})
_TOML_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_LARGE = 1e15
_PACK_IN_SITE = "[[pack]] in site.toml with the name"


@dataclass(frozen=True, slots=True)
class DeclaredPack:
    """A ``[[pack]]`` that has a name, whatever else is wrong with it; `key` is its dotted key."""

    name: str
    key: str
    level: int | None


@dataclass(frozen=True, slots=True)
class SiteRead:
    """What site.toml holds: the site if it is sound, and the packs it declares in any case."""

    site: Site | None
    packs: tuple[DeclaredPack, ...]
    pack_names: KnownNames
    faults: tuple[Fault, ...]


def read_site(text: str | None, frames: KnownFrames) -> SiteRead:
    """Read the text of site.toml; None stands for a file that could not be read."""
    if text is None:
        return _nothing(())
    long_lines = tuple(_long_lines(text))
    if long_lines:
        return _nothing(long_lines)
    try:
        content = tomllib.loads(text)
    except RecursionError:
        return _nothing((Fault(SITE, "its lists are nested too deep to be read"),))
    except ValueError as error:
        return _nothing((_syntax_fault(text, str(error)),))

    site: Site | None = None
    faults: list[Fault] = []
    try:
        site = Site.model_validate(content, context=frames)
    except ValidationError as error:
        faults.extend(_faults_of(error.errors(include_url=False)))
    faults.extend(_place_faults(content))
    faults.extend(_repeated_names(content))
    packs = tuple(_declared(content, frames))
    names = KnownNames.of(_PACK_IN_SITE, (pack.name for pack in packs), complete=True)
    return SiteRead(site, packs, names, tuple(dict.fromkeys(faults)))


def _nothing(faults: tuple[Fault, ...]) -> SiteRead:
    return SiteRead(None, (), KnownNames.of(_PACK_IN_SITE, (), complete=False), faults)


def _long_lines(text: str) -> Iterator[Fault]:
    """Tell which lines are too long: a key of very many parts would keep the reader busy for seconds."""
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) > MOST_LINE_LENGTH:
            words = f"the line has {len(line)} characters; at most {MOST_LINE_LENGTH} are read"
            yield Fault(SITE, f"{words}: spread a list over several lines", row=number)


def _syntax_fault(text: str, message: str) -> Fault:
    place = _TOML_PLACE.search(message)
    if place is None:
        return Fault(SITE, f"cannot be read as TOML: {message}")
    if place[1] is None:
        line, where = len(text.splitlines()), "the end of the file"
    else:
        line, where = int(place[1]), f"character {place[2]} of this line"
    return Fault(SITE, f"cannot be read as TOML, at {where}: {message[: place.start()]}", row=line)


def _faults_of(errors: Sequence[ErrorDetails]) -> Iterator[Fault]:
    for error in errors:
        kind, place, given = error["type"], error["loc"], error["input"]
        context = error.get("ctx", {})
        if kind == "too_short" and len(given) >= context["min_length"]:
            continue  # nothing is missing: entries were refused, each with its own fault
        if kind == "missing" and isinstance(place[-1], int):
            yield Fault(SITE, "the list has too few entries", column=_key(place[:-1]))
        elif kind == "extra_forbidden":
            yield Fault(SITE, _unknown_key(place), column=_key(place))
        elif kind == "tuple_type" and place[0] in _REPEATED and len(place) == 1:
            yield Fault(
                SITE, f"each one is written as [[{place[0]}]], in double brackets", column=_key(place)
            )
        else:
            text = _WORDS[kind].format(**context) if kind in _WORDS else error["msg"]
            yield Fault(SITE, text + (_input(given) if kind in _SHOWS_INPUT else ""), column=_key(place))


def _key(place: Sequence[int | str]) -> str:
    """Return a dotted key; entries of a list are counted from 1."""
    parts = [f"[{part + 1}]" if isinstance(part, int) else f".{label(part)}" for part in place]
    return "".join(parts).removeprefix(".")


def _input(given: object) -> str:
    if isinstance(given, str):
        return f", not {shown(given)}"
    if isinstance(given, int | float) and abs(given) < _LARGE:
        return f", not {given}"
    return ""


def _unknown_key(place: Sequence[int | str]) -> str:
    table = Site if len(place) == 1 else _TABLES[str(place[0])]
    keys = sorted(table.model_fields)
    near = difflib.get_close_matches(str(place[-1]), keys, n=1)
    return "unknown key; " + (f"did you mean {near[0]}?" if near else f"the keys here are {', '.join(keys)}")


def _tables(content: Mapping[str, object], kind: str) -> Iterator[tuple[str, Mapping[str, object]]]:
    """Yield the dotted key and the entries of each ``[[kind]]``, as far as it is one."""
    entries = content.get(kind)
    if isinstance(entries, list):
        for position, entry in enumerate(entries):
            if isinstance(entry, dict):
                yield _key((kind, position)), entry


def _place_faults(content: Mapping[str, object]) -> Iterator[Fault]:
    for key, entry in _tables(content, "pack"):
        if "at_mm" in entry and "places_mm" in entry:
            yield Fault(SITE, "give at_mm or places_mm, not both", column=key)
        elif "places_mm" in entry and "bearing_deg" in entry:
            text = "goes with at_mm; in places_mm each place has its own bearing"
            yield Fault(SITE, text, column=f"{key}.bearing_deg")
        elif "at_mm" not in entry and "places_mm" not in entry:
            yield Fault(
                SITE, "not given; give at_mm, or places_mm to let the plan choose", column=f"{key}.at_mm"
            )


def _named(content: Mapping[str, object], kind: str) -> Iterator[tuple[str, str, Mapping[str, object]]]:
    for key, entry in _tables(content, kind):
        name = entry.get("name")
        if isinstance(name, str) and name.strip():
            yield key, name.strip(), entry


def _repeated_names(content: Mapping[str, object]) -> Iterator[Fault]:
    """Tell which name is taken already: packs and spots share theirs, as a plan lists both as places."""
    for kinds, told in (
        (("pack", "spot"), "packs and spots share no name"),
        (("deck",), "name it otherwise"),
    ):
        first: dict[str, str] = {}
        for key, name, _ in (named for kind in kinds for named in _named(content, kind)):
            earlier = first.setdefault(name_key(name), key)
            if earlier != key:
                text = f"{shown(name)} is already the name of {earlier}; {told}"
                yield Fault(SITE, text, column=f"{key}.name")


def _declared(content: Mapping[str, object], frames: KnownFrames) -> Iterator[DeclaredPack]:
    there = set(frames.levels.values())
    for key, name, entry in _named(content, "pack"):
        level = entry.get("level", 1)
        sound = isinstance(level, int) and not isinstance(level, bool) and level in there
        yield DeclaredPack(name, key, level if sound and isinstance(level, int) else None)
