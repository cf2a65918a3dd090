"""Where a plan begins that was made in the middle of the job."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Annotated

from pydantic import Field

from packseq.house.model import House
from packseq.plan.record import Mm, Name, Record, Whole, Words
from packseq.scenario.model import Place


class LayerNow(Record):
    """Frames of a pack that do not lie on one another.

    `layer` is the layer's number as delivered or as found; None once it was put on top on site.
    """

    layer: Whole | None = None
    frames: tuple[Name, ...]


class Begin(Record):
    """What stands and what lies where before the first move.

    Parameters
    ----------
    stood
        Standing frames, in the order in which they were stood.
    packs
        The layers left in each pack, top first; a pack that is not named is empty.
    spots
        The frames on each spot in the order in which they were put down: the bottom of a pile first.
    left_out
        Frames that the plan does not stand: those that are missing, damaged or too heavy for the
        crew, and those that no rule allows without them. They may lie somewhere, and be set aside.
    landed
        Packs that lie elsewhere than in the scenario: centre in mm, and direction of the long side.
    people
        How many people are there, where that is not as in the scenario.
    lines
        How many sound lines of the journal the beginning was worked out from.
    last_at
        The time of the last of these lines, as it stands there; None where there are none.
    """

    stood: tuple[Name, ...] = ()
    packs: dict[Name, tuple[LayerNow, ...]] = Field(default_factory=dict)
    spots: dict[Name, tuple[Name, ...]] = Field(default_factory=dict)
    left_out: tuple[Name, ...] = ()
    landed: dict[Name, tuple[Mm, Mm, Mm]] = Field(default_factory=dict)
    people: Annotated[int, Field(ge=1, le=100)] | None = None
    lines: Whole = 0
    last_at: Words | None = None

    @property
    def mentioned(self) -> Iterator[str]:
        """Every frame that stands or lies somewhere."""
        yield from self.stood
        for layers in self.packs.values():
            for layer in layers:
                yield from layer.frames
        for frames in self.spots.values():
            yield from frames


def as_begun(house: House, begin: Begin | None) -> House:
    """Return a house with the crew and the places of packs as they are where a plan begins."""
    if begin is None:
        return house
    scenario = house.scenario
    packs = dict(scenario.packs)
    for name, (x_mm, y_mm, bearing_deg) in begin.landed.items():
        if name in packs:
            packs[name] = replace(packs[name], places=(Place((x_mm, y_mm), bearing_deg),))
    crew = replace(scenario.crew, people=begin.people or scenario.crew.people)
    return replace(house, scenario=replace(scenario, packs=packs, crew=crew))
