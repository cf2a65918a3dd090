"""Small houses with a journal each, and lines of a journal in few words."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from small_house import lean, pack, pile, room

from packseq.day.names import Names, names_of
from packseq.house.model import House
from packseq.scenario.model import StandChoices

AT = "2026-03-02T07:21:05+01:00"


def busy_room(stand: StandChoices | None = None) -> House:
    """Return the room of nine frames in two packs, with a pile, a lean, and room on top of pack B.

    Pack A from the top: W1, W2 / S2 / S1 / E1; pack B: I1 / N1, N2 / E2.
    """
    packs = (
        pack("A", (2000, -3000), [["W1", "W2"], ["S2"], ["S1"], ["E1"]]),
        pack("B", (8000, 2000), [["I1"], ["N1", "N2"], ["E2"]], holds=3, length_mm=4000),
    )
    spots = (pile("P", (-6000, 0), holds=4), lean("L", (-6000, 5000), holds=4))
    return room(packs, spots=spots, stand=stand)


def names(house: House) -> Names:
    return names_of(house, None)


def line(event: str, **fields: object) -> dict[str, Any]:
    """Return a line of a journal as data; ``where`` stands for ``in``."""
    if "where" in fields:
        fields["in"] = fields.pop("where")
    return {"format": 1, "at": AT, "event": event, **fields}


def text(lines: Sequence[Mapping[str, Any]]) -> str:
    return "".join(json.dumps(each) + "\n" for each in lines)
