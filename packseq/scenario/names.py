"""Names of frames, packs and spots: what they may be, and finding them again."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from packseq.scenario.limits import NAME_LENGTH

SHOWN = 40
"""Most characters of somebody's text that a message repeats."""


def shown(text: str) -> str:
    """Return text for a message: in quotes, control characters spelled out, cut short when long."""
    return repr(text) if len(text) <= SHOWN else f"{text[:SHOWN]!r}..."


def name_key(name: str) -> str:
    """Return what two spellings of one name share: trimmed, case ignored, accents composed."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name.strip()).casefold())


def name_fault(name: str, most: int = NAME_LENGTH) -> str | None:
    """Tell what is wrong with a trimmed name, or None: it has 1 to `most` printable characters."""
    if not name:
        return "the name is not given"
    if len(name) > most:
        return f"{shown(name)} has {len(name)} characters; a name has at most {most}"
    if not name.isprintable():
        return f"{shown(name)} holds a character that cannot be printed"
    return None


def label(name: str) -> str:
    """Return a name as a fault may show it: as it is where it is sound, else as `shown`."""
    return name if name_fault(name) is None else shown(name)


@dataclass(frozen=True)
class KnownNames:
    """The names of one kind of thing, by `name_key`, each with the spelling that is kept (its `label`).

    `complete` is False where the file that lists them could not be read to its end: then
    a name that is not found is no fault.
    """

    what: str
    spelling: Mapping[str, str]
    complete: bool

    @cached_property
    def _keys(self) -> list[str]:
        return sorted(self.spelling)

    @classmethod
    def of(cls, what: str, names: Iterable[str], *, complete: bool) -> KnownNames:
        """Gather names; of two spellings of one name the first is kept, and blanks are left out."""
        spelling: dict[str, str] = {}
        for name in names:
            if name:
                spelling.setdefault(name_key(name), label(name))
        return cls(what, spelling, complete)

    def find(self, name: str) -> str | None:
        """Return the kept spelling of a name, or None when it is not among them."""
        return self.spelling.get(name_key(name))

    def fault(self, name: str, *, hint: bool = True) -> str | None:
        """Tell that a name is not among them, with a hint at the closest that is; None if it is."""
        if not self.complete or self.find(name) is not None:
            return None
        near = difflib.get_close_matches(name_key(name), self._keys, n=1) if hint else []
        closest = f"; did you mean {shown(self.spelling[near[0]])}?" if near else ""
        return f"there is no {self.what} {shown(name)}{closest}"
