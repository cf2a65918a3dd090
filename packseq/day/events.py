"""What can happen on site, as the lines of a journal: docs/journal.md tells their form."""

from __future__ import annotations

import re
from datetime import datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, ConfigDict, Field, TypeAdapter, model_validator

from packseq.plan.record import Mm, Record

NOTE_LENGTH = 200
MOST_PEOPLE = 100
MOST_LAYERS = 1000
MOST_TURN_DEG = 360.0

_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)")


def _sound_time(text: str) -> str:
    if not _TIME.fullmatch(text):
        raise ValueError("is not a date, a time to the second and an offset")
    datetime.fromisoformat(text)
    return text


Undoable = Literal["stood", "set aside", "missing", "damaged", "found", "landed", "crew"]


class Line(Record):
    """What every line of a journal has: when it was noted, and a remark for people."""

    model_config = ConfigDict(strict=True)

    format: Literal[1] = 1
    at: Annotated[str, AfterValidator(_sound_time)]
    note: Annotated[str, Field(max_length=NOTE_LENGTH)] | None = None


class OnHeap(Record):
    """On a spot, or on top of a pack: exactly one of the two."""

    spot: str | None = None
    pack: str | None = None

    @model_validator(mode="after")
    def _one_of_two(self) -> OnHeap:
        if (self.spot is None) == (self.pack is None):
            raise ValueError("names neither a spot nor a pack, or both")
        return self

    def __str__(self) -> str:
        return f"spot {self.spot}" if self.spot is not None else f"pack {self.pack}"


class InHeap(OnHeap):
    """On a spot, or in a layer of a pack."""

    layer: Annotated[int, Field(ge=1, le=MOST_LAYERS)] | None = None

    @model_validator(mode="after")
    def _layer_of_a_pack(self) -> InHeap:
        if (self.pack is None) != (self.layer is None):
            raise ValueError("has a layer without a pack, or a pack without a layer")
        return self

    def __str__(self) -> str:
        return super().__str__() if self.layer is None else f"pack {self.pack} layer {self.layer}"


class Begun(Line):
    """Which house the journal is of."""

    event: Literal["begun"] = "begun"
    scenario: str
    scenario_sha256: str


class Stood(Line):
    """A frame stands on its line."""

    event: Literal["stood"] = "stood"
    frame: str


class SetAside(Line):
    """A frame was put on a spot, or on top of a pack."""

    event: Literal["set aside"] = "set aside"
    frame: str
    to: OnHeap


class Missing(Line):
    """A frame was not delivered, or cannot be found."""

    event: Literal["missing"] = "missing"
    frame: str


class Damaged(Line):
    """A frame is there and cannot be stood as it is."""

    event: Literal["damaged"] = "damaged"
    frame: str


class Found(Line):
    """A frame lies elsewhere than the list says, or is there again and fit to be stood."""

    event: Literal["found"] = "found"
    frame: str
    where: Annotated[InHeap, Field(alias="in")]


class Landed(Line):
    """A pack lies elsewhere than the scenario says."""

    event: Literal["landed"] = "landed"
    pack: str
    at_mm: tuple[Mm, Mm]
    bearing_deg: Annotated[float, Field(allow_inf_nan=False, ge=-MOST_TURN_DEG, le=MOST_TURN_DEG)]


class CrewNow(Line):
    """So many people are there from now on."""

    event: Literal["crew"] = "crew"
    people: Annotated[int, Field(ge=1, le=MOST_PEOPLE)]


class Undone(Line):
    """The last line of that kind about that frame or pack was noted by mistake."""

    event: Literal["undone"] = "undone"
    what: Undoable
    frame: str | None = None
    pack: str | None = None

    @model_validator(mode="after")
    def _names_its_subject(self) -> Undone:
        wanted = {"landed": (False, True), "crew": (False, False)}.get(self.what, (True, False))
        if (self.frame is not None, self.pack is not None) != wanted:
            raise ValueError(f"does not name just what a line of {self.what} is about")
        return self


Event = Begun | Stood | SetAside | Missing | Damaged | Found | Landed | CrewNow | Undone
Takeable = Stood | SetAside | Missing | Damaged | Found | Landed | CrewNow
"""Events that say what happened: those that can be taken back."""

EVENT: TypeAdapter[Event] = TypeAdapter(Annotated[Event, Field(discriminator="event")])
"""Reads a line of a journal as the event that it names."""


def subject(event: Event) -> tuple[str | None, str | None]:
    """Return the frame and the pack that a line is about: lines that take one another back share them."""
    match event:
        case Stood() | SetAside() | Missing() | Damaged() | Found():
            return (event.frame, None)
        case Landed():
            return (None, event.pack)
        case Undone():
            return (event.frame, event.pack)
        case Begun() | CrewNow():
            return (None, None)


def said(event: Event) -> str:
    """Return what a line says, in the words of the site."""
    match event:
        case Begun():
            words = f"journal begun for {event.scenario}"
        case Stood():
            words = f"{event.frame} stands"
        case SetAside():
            top = "" if event.to.pack is None else "the top of "
            words = f"{event.frame} set aside on {top}{event.to}"
        case Missing():
            words = f"{event.frame} is missing"
        case Damaged():
            words = f"{event.frame} is damaged"
        case Found():
            words = f"{event.frame} found {'on' if event.where.pack is None else 'in'} {event.where}"
        case Landed():
            x_mm, y_mm = event.at_mm
            return (
                f"pack {event.pack} lies at x {x_mm:g}, y {y_mm:g} mm, turned {event.bearing_deg:g} degrees"
            )
        case CrewNow():
            words = f"{event.people} {'person' if event.people == 1 else 'people'} from now on"
        case Undone():
            about = event.frame or (f"pack {event.pack}" if event.pack is not None else "")
            words = f"taken back: {event.what}{f' {about}' if about else ''}"
    return words
