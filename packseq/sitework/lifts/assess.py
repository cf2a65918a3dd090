"""Each lift of a job, and each frame held upright, beside what is published about them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from packseq.check import Replay
from packseq.check.state import Heap, Layer, State
from packseq.house.model import House
from packseq.plan.model import Move
from packseq.scenario.mass import timber_list
from packseq.scenario.model import Frame
from packseq.sitework.lifts.choices import LiftChoices
from packseq.sitework.lifts.niosh import Posture, duration_of, lifting_index, recommended_kg
from packseq.sitework.lifts.teams import team_for
from packseq.sitework.lifts.wind import holding_speed_m_per_s

BEARERS_MM = 100.0
"""Height of the bearers under a pack or pile: common practice, no source."""

CARRIED_MM = 750.0
"""Hands when a frame is carried: knuckle height, where the equation has its best lift."""

HIGH_INDEX = 3.0
"""Above 1 some people, above 3 many are at more risk of a back injury: applications manual, from memory."""


@dataclass(frozen=True, slots=True)
class LiftOff:
    """One lift: who takes what from where, and how that compares.

    `move` is its number in the plan, None without one. `guided_people` is the smallest team by published
    guidance, None when none of up to four can. `limit_kg` is the recommended weight for each person.
    """

    move: int | None
    frame: str
    does: str
    source: str
    mass_kg: float
    mass_is_estimate: bool
    people: int
    guided_people: int | None
    hands_mm: float
    limit_kg: float
    index: float
    for_a_machine: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Upright:
    """A frame held upright by its team, and the wind (m/s) at which they can only just hold it."""

    frame: str
    length_mm: float
    height_mm: float
    people: int
    solidity: float
    wrapped_m_per_s: float
    bare_m_per_s: float


def lifts_as_delivered(house: House, choices: LiftChoices) -> tuple[LiftOff, ...]:
    """Return one lift for each frame, off the pack it came in, pack by pack from the top."""
    scenario = house.scenario
    delivered = State.delivered(scenario.packs.values(), ())
    return tuple(
        _lift_off(house, delivered, name, choices) for pack in scenario.packs.values() for name in pack.frames
    )


def lifts_of_plan(done: Replay, choices: LiftChoices) -> tuple[LiftOff, ...]:
    """Return every lift of a plan that was replayed and keeps the rules, in its order."""
    before = (done.job.beginning, *done.states())
    return tuple(
        _lift_off(done.job.house, state, move.frame, choices, move)
        for state, move in zip(before, done.plan.moves, strict=False)
    )


def frames_upright(house: House, choices: LiftChoices) -> tuple[Upright, ...]:
    """Return each frame as its team holds it upright, the one that gives way to least wind first."""
    made = (_upright(house, frame, choices) for frame in house.scenario.frames.values())
    return tuple(sorted(made, key=lambda each: (each.wrapped_m_per_s, each.frame)))


def _upright(house: House, frame: Frame, choices: LiftChoices) -> Upright:
    people = min(house.scenario.crew.team(frame.mass_kg), house.scenario.crew.people)
    solidity = _solidity(frame)

    def speed(solid: float) -> float:
        return holding_speed_m_per_s(
            frame.length_mm, frame.height_mm, people, solidity=solid, push_kg=choices.push_kg
        )

    return Upright(
        frame.name, frame.length_mm, frame.height_mm, people, solidity, speed(1.0), speed(solidity)
    )


def _solidity(frame: Frame) -> float:
    """Return the share of a bare frame's face that is timber, by the list its mass is estimated from."""
    pieces = timber_list(frame.length_mm, frame.height_mm, frame.thickness_mm, frame.openings)
    face_mm2 = sum(piece.count * piece.length_mm * piece.depth_mm for piece in pieces)
    return min(face_mm2 / (frame.length_mm * frame.height_mm), 1.0)


def _lift_off(
    house: House, state: State, name: str, choices: LiftChoices, plan_move: Move | None = None
) -> LiftOff:
    crew = house.scenario.crew
    frame = house.scenario.frames[name]
    heap = state.lies[frame.name]
    hands_mm = _hands_mm(house, state, heap, frame) if choices.hands_mm is None else choices.hands_mm
    posture = Posture(
        reach_cm=choices.reach_mm / 10,
        height_cm=hands_mm / 10,
        travel_cm=abs(CARRIED_MM - hands_mm) / 10,
        turn_deg=choices.turn_deg,
        per_minute=choices.per_minute,
        duration=duration_of(choices.hours),
        coupling=choices.coupling,
    )
    people = crew.team(frame.mass_kg)
    limit_kg = recommended_kg(posture)
    index = lifting_index(frame.mass_kg / people, limit_kg)
    each_kg = crew.share_kg if choices.each_kg is None else choices.each_kg
    guided = team_for(frame.mass_kg, each_kg)
    layer = state.layer_number(frame.name)
    return LiftOff(
        move=None if plan_move is None else plan_move.n,
        frame=frame.name,
        does="lift" if plan_move is None else plan_move.do,
        source=f"{heap}, layer {layer}" if layer is not None else str(heap),
        mass_kg=frame.mass_kg,
        mass_is_estimate=frame.mass_is_estimate,
        people=people,
        guided_people=guided,
        hands_mm=hands_mm,
        limit_kg=limit_kg,
        index=index,
        for_a_machine=tuple(_reasons(people, crew.people, guided, index)),
    )


def _reasons(people: int, crew: int, guided: int | None, index: float) -> Iterator[str]:
    if people > crew:
        yield f"{people} people by the crew's share, and there are {crew}"
    if guided is None:
        yield "more than four people by team guidance"
    if index > HIGH_INDEX:
        yield f"lifting index over {HIGH_INDEX:g}"


def _hands_mm(house: House, state: State, heap: Heap, frame: Frame) -> float:
    """Return how high the hands are that take a frame from a heap.

    From a pack or pile: the middle of the frame's own thickness, on the bearers and the layers under it. A
    frame of a lean stands on edge and is taken at knuckle height.
    """
    if heap.kind == "lean":
        return CARRIED_MM
    layers = state.heaps[heap]
    own = next(place for place, layer in enumerate(layers) if frame.name in layer.frames)
    return BEARERS_MM + sum(_thick_mm(house, layer) for layer in layers[own + 1 :]) + frame.thickness_mm / 2


def _thick_mm(house: House, layer: Layer) -> float:
    return max(house.scenario.frames[name].thickness_mm for name in layer.frames)
