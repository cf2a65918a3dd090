"""The sheet about lifting and wind."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from packseq.check import Replay
from packseq.house.model import House
from packseq.sheet import Column, Section, Sheet, Table, Words
from packseq.sitework.cautions import DEFERRAL, LIFTING, NO_FIGURE_DECIDES, WIND
from packseq.sitework.lifts.assess import (
    BEARERS_MM,
    CARRIED_MM,
    LiftOff,
    Upright,
    frames_upright,
    lifts_as_delivered,
    lifts_of_plan,
)
from packseq.sitework.lifts.beaufort import beaufort
from packseq.sitework.lifts.choices import LiftChoices
from packseq.sitework.lifts.teams import LARGEST_TEAM, team_limit_kg
from packseq.sitework.lifts.wind import HANDS_UP_MM

TITLE = "Lifting and wind"


@dataclass(frozen=True, slots=True)
class Lifting:
    """Every lift and every frame held upright, with what was chosen; `gust_m_per_s` None: not given."""

    house: House
    choices: LiftChoices
    lifts: tuple[LiftOff, ...]
    upright: tuple[Upright, ...]
    gust_m_per_s: float | None

    @property
    def each_kg(self) -> float:
        """What one person could lift alone, as the team guidance takes it."""
        chosen = self.choices.each_kg
        return self.house.scenario.crew.share_kg if chosen is None else chosen


def study_lifting(
    house: House, choices: LiftChoices, *, plan: Replay | None = None, gust_m_per_s: float | None = None
) -> Lifting:
    """Work out every lift, of a checked plan or else as delivered, and the wind each frame is held in."""
    lifts = lifts_as_delivered(house, choices) if plan is None else lifts_of_plan(plan, choices)
    return Lifting(house, choices, lifts, frames_upright(house, choices), gust_m_per_s)


def lifting_document(lifting: Lifting) -> dict[str, Any]:
    """Return the figures as plain data; an endless lifting index is null."""
    lifts = [
        {**asdict(lift), "index": lift.index if math.isfinite(lift.index) else None} for lift in lifting.lifts
    ]
    upright = [{**asdict(frame), "gust_is_too_much": _gust(lifting, frame)} for frame in lifting.upright]
    return {
        "choices": {**asdict(lifting.choices), "each_kg": lifting.each_kg},
        "gust_m_per_s": lifting.gust_m_per_s,
        "lifts": lifts,
        "upright": upright,
    }


def lifting_sheet(lifting: Lifting) -> Sheet:
    """Return the sheet: what needs a machine, every lift, the wind, and how the figures are made."""
    return Sheet(
        TITLE,
        lifting.house.scenario.name,
        (LIFTING, WIND, NO_FIGURE_DECIDES, DEFERRAL),
        (
            Section("Lifts that call for a machine", (_machine_part(lifting.lifts),)),
            Section("Every lift", (_lift_table(lifting),)),
            Section("Wind on a frame held upright", (*_gust_words(lifting), _wind_table(lifting))),
            Section("How these figures are made", (Words(tuple(_method(lifting))),)),
        ),
    )


def _machine_part(lifts: Sequence[LiftOff]) -> Table | Words:
    marked = sorted((lift for lift in lifts if lift.for_a_machine), key=lambda lift: -lift.mass_kg)
    if not marked:
        return Words(("None of the three tests below marks a lift. Look at each one all the same.",))
    reasons: dict[str, tuple[LiftOff, list[str]]] = {}
    for lift in marked:
        _, said = reasons.setdefault(lift.frame, (lift, []))
        said.extend(reason for reason in lift.for_a_machine if reason not in said)
    return Table(
        (Column("frame"), Column("kg", number=True), Column("marked because")),
        tuple((frame, _mass(lift), "; ".join(said)) for frame, (lift, said) in reasons.items()),
        "Lift these with a machine, split or lighten them, or have a competent person decide otherwise.",
    )


def _lift_table(lifting: Lifting) -> Table:
    headings = (
        Column("move", number=True),
        Column("frame"),
        Column("from"),
        Column("kg", number=True),
        Column("people, share", number=True),
        Column("people, guidance", number=True),
        Column("hands mm", number=True),
        Column("advised kg each", number=True),
        Column("index", number=True),
    )
    rows = tuple(
        (
            "" if lift.move is None else str(lift.move),
            lift.frame,
            f"{lift.source} (aside)" if lift.does == "set aside" else lift.source,
            _mass(lift),
            str(lift.people),
            "over 4" if lift.guided_people is None else str(lift.guided_people),
            f"{lift.hands_mm:.0f}",
            f"{lift.limit_kg:.1f}",
            f"{lift.index:.1f}" if math.isfinite(lift.index) else "no such lift",
        )
        for lift in lifting.lifts
    )
    return Table(headings, rows)


def _wind_table(lifting: Lifting) -> Table:
    headings = [
        Column("frame"),
        Column("m", number=True),
        Column("held by", number=True),
        Column("wrapped: lay down from"),
        Column("bare: lay down from"),
    ]
    if lifting.gust_m_per_s is not None:
        headings.append(Column(f"in gusts of {lifting.gust_m_per_s:g} m/s"))
    rows = [
        (
            frame.frame,
            f"{frame.length_mm / 1000:.1f} x {frame.height_mm / 1000:.1f}",
            str(frame.people),
            _speed(frame.wrapped_m_per_s),
            _speed(frame.bare_m_per_s),
            *_verdict(lifting, frame),
        )
        for frame in lifting.upright
    ]
    return Table(tuple(headings), tuple(rows))


def _speed(m_per_s: float) -> str:
    return f"{m_per_s:.1f} m/s, {beaufort(m_per_s)}"


def _gust(lifting: Lifting, frame: Upright) -> dict[str, bool] | None:
    gust = lifting.gust_m_per_s
    if gust is None:
        return None
    return {"wrapped": gust >= frame.wrapped_m_per_s, "bare": gust >= frame.bare_m_per_s}


def _verdict(lifting: Lifting, frame: Upright) -> tuple[str, ...]:
    beyond = _gust(lifting, frame)
    if beyond is None:
        return ()
    if beyond["bare"]:
        return ("do not stand",)
    return ("do not stand if wrapped" if beyond["wrapped"] else "below both figures: the leader decides",)


def _gust_words(lifting: Lifting) -> tuple[Words, ...]:
    gust = lifting.gust_m_per_s
    if gust is None:
        return (Words(("No gust was given: read the day's forecast gust and look it up below (--gust).",)),)
    force = beaufort(gust)
    return (Words((f"Gusts of {gust:g} m/s ({gust * 3.6:.0f} km/h) are forecast: {force}; {force.seen}.",)),)


def _method(lifting: Lifting) -> Iterator[str]:
    choices, each_kg = lifting.choices, lifting.each_kg
    most_kg = team_limit_kg(LARGEST_TEAM, each_kg)
    yield (
        f"People by share: mass over {lifting.house.scenario.crew.share_kg:g} kg, at least two; that is the "
        "plan's rule."
    )
    yield (
        f"People by guidance: two lift 2/3, three 1/2 of what they could each lift alone ({each_kg:g} kg "
        f"here); for four, 1/2 is carried on, so {most_kg:g} kg is the most; teams over four are unlikely to "
        "work (HSE L23)."
    )
    yield (
        "Lifting index: each one's equal share over the weight advised by the revised NIOSH equation at "
        f"lift-off, hands {choices.reach_mm:.0f} mm out from the ankles, frame carried at "
        f"{CARRIED_MM:.0f} mm, turned {choices.turn_deg:g} degrees, {choices.per_minute:g} lifts a "
        f"minute, {choices.hours:g} hours, {choices.coupling} grip. Over 1 some people, over 3 many are "
        "at more risk of a back injury. The equation is for one person and leaves out carrying, "
        "slipping and a load that shifts."
    )
    if choices.hands_mm is None:
        yield (
            f"Hands at lift-off: bearers of {BEARERS_MM:.0f} mm, the layers under the frame, half its own "
            f"thickness; {CARRIED_MM:.0f} mm from a lean."
        )
    yield (
        "Wind: 0.6 V2 in Pa on a free-standing wall, the larger of two codes' coefficients; each person "
        f"keeps up a push of {choices.push_kg:g} kg at {HANDS_UP_MM:.0f} mm or half height; plate not "
        "sliding. Bare: the timber only, which sheds part of the wind. On the ground; upstairs the wind "
        "is stronger."
    )
    yield "Every formula and its source: docs/lifts.md."


def _mass(lift: LiftOff) -> str:
    return f"{lift.mass_kg:.1f}{' est.' if lift.mass_is_estimate else ''}"
