"""From the words of ``packseq record`` to a line of the journal."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

import typer

from packseq.day.events import (
    MOST_PEOPLE,
    NOTE_LENGTH,
    CrewNow,
    Damaged,
    Event,
    Found,
    InHeap,
    Landed,
    Missing,
    OnHeap,
    SetAside,
    Stood,
    Undoable,
    Undone,
)
from packseq.day.names import Names
from packseq.plan.record import FURTHEST_MM

EVENTS = ("stood", "aside", "missing", "damaged", "found", "landed", "crew", "undone")
_SUBJECTS = {"landed": "pack", "crew": "number of people"}
"""What the word after an event names, where that is not a frame."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked to be noted, as it came from the command line."""

    words: tuple[str, ...]
    spot: str | None
    pack: str | None
    layer: int | None
    at_mm: tuple[float, float] | None
    bearing_deg: float | None
    note: str | None

    def refuse_misused(self) -> None:
        """Refuse words and options that make no event.

        Raises
        ------
        typer.BadParameter
            With what would.
        """
        event, *rest = self.words
        if event not in EVENTS:
            raise typer.BadParameter(f"{event!r} is none of {', '.join(EVENTS)}", param_hint="WHAT")
        wanted = _SUBJECTS.get(event, "frame")
        if event == "undone":
            self._refuse_misused_undone(rest)
        elif len(rest) != 1:
            raise typer.BadParameter(f"say one {wanted} after {event}", param_hint="WHAT")
        elif event == "crew" and not (
            rest[0].isascii() and rest[0].isdigit() and 1 <= int(rest[0]) <= MOST_PEOPLE
        ):
            raise typer.BadParameter(f"the crew is a whole number from 1 to {MOST_PEOPLE}", param_hint="WHAT")
        self._refuse_misused_options(event)

    def _refuse_misused_undone(self, rest: list[str]) -> None:
        kinds = [event for event in EVENTS if event != "undone"]
        if not rest or rest[0] not in kinds:
            raise typer.BadParameter(f"say what to take back: one of {', '.join(kinds)}", param_hint="WHAT")
        if len(rest) != (1 if rest[0] == "crew" else 2):
            subject = "nothing" if rest[0] == "crew" else f"one {_SUBJECTS.get(rest[0], 'frame')}"
            raise typer.BadParameter(f"say {subject} after undone {rest[0]}", param_hint="WHAT")

    def _refuse_misused_options(self, event: str) -> None:
        given = {
            "--spot": self.spot,
            "--pack": self.pack,
            "--layer": self.layer,
            "--at": self.at_mm,
            "--bearing": self.bearing_deg,
        }
        takes = {
            "aside": ("--spot", "--pack"),
            "found": ("--spot", "--pack", "--layer"),
            "landed": ("--at", "--bearing"),
        }.get(event, ())
        for option, value in given.items():
            if value is not None and option not in takes:
                raise typer.BadParameter(f"{event} does not take it", param_hint=option)
        if event in {"aside", "found"} and (self.spot is None) == (self.pack is None):
            raise typer.BadParameter("say where: --spot, or --pack", param_hint="--spot")
        if event == "found" and (self.pack is None) != (self.layer is None):
            raise typer.BadParameter("--pack and --layer go together", param_hint="--layer")
        if event == "landed" and self.at_mm is None:
            raise typer.BadParameter("say where its centre lies", param_hint="--at")
        # Written so that "nan" is refused too.
        if self.at_mm is not None and not all(abs(value) <= FURTHEST_MM for value in self.at_mm):
            raise typer.BadParameter(f"must lie within {FURTHEST_MM / 1e6:g} km", param_hint="--at")
        if self.note is not None and len(self.note) > NOTE_LENGTH:
            raise typer.BadParameter(f"has at most {NOTE_LENGTH} characters", param_hint="--note")

    def event(self, names: Names, at: str) -> Event:
        """Return the event that was asked for, with names as the scenario spells them.

        A name that is not known stays as it is. The words must have passed `refuse_misused`.
        """
        event, *rest = self.words
        frame = names.spelled("frame", rest[0])
        spot = None if self.spot is None else names.spelled("spot", self.spot)
        pack = None if self.pack is None else names.spelled("pack", self.pack)
        made: Event
        match event:
            case "stood":
                made = Stood(at=at, note=self.note, frame=frame)
            case "aside":
                made = SetAside(at=at, note=self.note, frame=frame, to=OnHeap(spot=spot, pack=pack))
            case "missing":
                made = Missing(at=at, note=self.note, frame=frame)
            case "damaged":
                made = Damaged(at=at, note=self.note, frame=frame)
            case "found":
                where = InHeap(spot=spot, pack=pack, layer=self.layer)
                made = Found(at=at, note=self.note, frame=frame, where=where)
            case "landed":
                made = Landed(
                    at=at,
                    note=self.note,
                    pack=names.spelled("pack", rest[0]),
                    at_mm=self.at_mm or (0.0, 0.0),
                    bearing_deg=self.bearing_deg or 0.0,
                )
            case "crew":
                made = CrewNow(at=at, note=self.note, people=int(rest[0]))
            case _:
                made = self._undone(names, at, rest)
        return made

    def _undone(self, names: Names, at: str, rest: list[str]) -> Undone:
        said = "set aside" if rest[0] == "aside" else rest[0]
        what = next(each for each in get_args(Undoable) if each == said)
        frame = None if rest[0] in _SUBJECTS else names.spelled("frame", rest[1])
        pack = names.spelled("pack", rest[1]) if rest[0] == "landed" else None
        return Undone(at=at, note=self.note, what=what, frame=frame, pack=pack)
