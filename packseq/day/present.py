"""What is so on site now: what was delivered, and everything that the journal says happened since."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import reduce

from packseq.check.job import listed
from packseq.check.state import Heap, State
from packseq.day.events import (
    CrewNow,
    Damaged,
    Event,
    Found,
    Landed,
    Missing,
    OnHeap,
    SetAside,
    Stood,
    Undone,
    said,
)
from packseq.day.journal import Noted, counting, taken_back
from packseq.day.lying import put_in_layer, put_on, without
from packseq.day.names import Names
from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.routes.values import Stop, frame_stop, pack_stop, spot_stop
from packseq.scenario.model import Place, Spot


@dataclass(frozen=True, slots=True)
class Carried:
    """A frame that was carried: from where to where, and what stood by then.

    `start` is None where nobody noted where it lay. `aside` tells a set-aside from a stand.
    """

    frame: str
    aside: bool
    start: Stop | None
    end: Stop
    standing: frozenset[str]


@dataclass(frozen=True)
class Present:
    """The site at the end of the journal.

    Parameters
    ----------
    house
        The house as delivered.
    state
        What stands, in its order, and what lies where. A frame in neither is missing, or damaged and
        nobody noted where it lies.
    spots
        The spots there are.
    places
        Where each pack lies.
    people
        How many people are there.
    missing, damaged
        Frames noted so and not found since, in the order of the scenario.
    carried
        Every lift so far, in order.
    remarks
        What in the journal does not fit together. The later line counts: the site is right.
    """

    house: House
    state: State
    spots: Mapping[str, Spot]
    places: Mapping[str, Place]
    people: int
    missing: tuple[str, ...] = ()
    damaged: tuple[str, ...] = ()
    carried: tuple[Carried, ...] = ()
    remarks: tuple[str, ...] = ()

    def heap(self, where: OnHeap) -> Heap:
        """Return the pack or spot that a line names."""
        if where.spot is not None:
            return Heap(self.spots[where.spot].kind, where.spot)
        return Heap("pack", where.pack or "")

    def stop(self, heap: Heap) -> Stop:
        """Return where the team picks up from a heap and puts down on it now."""
        if heap.kind == "pack":
            return pack_stop(self.house.scenario.packs[heap.name], self.places[heap.name])
        return spot_stop(self.spots[heap.name])

    @property
    def extra_lifts(self) -> int:
        """How many lifts set a frame aside."""
        return sum(lift.aside for lift in self.carried)


def present_state(house: House, names: Names, plan: Plan | None, lines: Sequence[Noted]) -> Present:
    """Return what is so after every line of a journal that counts.

    Whatever a line says is taken to be so, even where no plan could have brought it about; what does
    not fit is told in the remarks.

    Parameters
    ----------
    house
        The house as delivered.
    names
        Its names; the journal's lines use no others.
    plan
        The plan that was worked by, for where its packs were landed.
    lines
        The sound lines of the journal.
    """
    scenario = house.scenario
    places = {name: pack.places[0] for name, pack in scenario.packs.items()}
    for name, (x_mm, y_mm, bearing_deg) in ({} if plan is None else plan.places).items():
        planned = Place((x_mm, y_mm), bearing_deg)
        if name in scenario.packs and planned in scenario.packs[name].places:
            places[name] = planned
    state = State.delivered(scenario.packs.values(), names.spots.values())
    start = Present(house, state, names.spots, places, scenario.crew.people, remarks=tuple(_idle(lines)))
    now = reduce(_after, counting(lines), start)
    order = {name: place for place, name in enumerate(scenario.frames)}
    return replace(
        now,
        missing=tuple(sorted(now.missing, key=order.__getitem__)),
        damaged=tuple(sorted(now.damaged, key=order.__getitem__)),
    )


def _idle(lines: Sequence[Noted]) -> list[str]:
    """Return a remark for each line that takes back what is not there."""
    left: list[Noted] = []
    remarks = []
    for noted in lines:
        if not isinstance(noted.event, Undone):
            left.append(noted)
            continue
        place = taken_back(left, noted.event)
        if place is None:
            remarks.append(f"Row {noted.row}: {said(noted.event)}, but nothing such was noted before.")
        else:
            del left[place]
    return remarks


def _after(now: Present, noted: Noted) -> Present:
    event = noted.event
    told = tuple(f"Row {noted.row}: {text}." for text in _contradictions(now, event))
    return replace(_taken(now, event), remarks=(*now.remarks, *told))


def _taken(now: Present, event: Event) -> Present:
    after = now
    match event:
        case Stood() if event.frame not in now.state.standing:
            after = _carried(now, event.frame, None)
        case SetAside():
            after = _carried(now, event.frame, now.heap(event.to))
        case Missing():
            after = replace(
                _there_and_sound(now, event.frame),
                state=without(now.state, event.frame),
                missing=(*_but(now.missing, event.frame), event.frame),
            )
        case Damaged():
            damaged = (*_but(now.damaged, event.frame), event.frame)
            after = replace(_there_and_sound(now, event.frame), damaged=damaged)
        case Found():
            after = replace(_there_and_sound(now, event.frame), state=_found(now, event))
        case Landed():
            places = {**now.places, event.pack: Place(event.at_mm, event.bearing_deg)}
            after = replace(now, places=places)
        case CrewNow():
            after = replace(now, people=event.people)
    return after


def _there_and_sound(now: Present, frame: str) -> Present:
    return replace(now, missing=_but(now.missing, frame), damaged=_but(now.damaged, frame))


def _found(now: Present, event: Found) -> State:
    state, heap = without(now.state, event.frame), now.heap(event.where)
    if event.where.layer is None:
        return put_on(state, event.frame, heap)
    return put_in_layer(state, event.frame, heap, event.where.layer)


def _carried(now: Present, frame: str, target: Heap | None) -> Present:
    state = now.state
    source = state.lies.get(frame)
    lift = Carried(
        frame,
        aside=target is not None,
        start=None if source is None else now.stop(source),
        end=frame_stop(now.house.scenario.frames[frame]) if target is None else now.stop(target),
        standing=state.standing - {frame},
    )
    state = without(state, frame)
    if target is None:
        stood = (*state.stood, frame)
        state = replace(state, stood=stood, standing=frozenset(stood))
    else:
        state = put_on(state, frame, target)
    return replace(
        now,
        state=state,
        missing=_but(now.missing, frame),
        damaged=_but(now.damaged, frame) if target is None else now.damaged,
        carried=(*now.carried, lift),
    )


def _but(names: tuple[str, ...], name: str) -> tuple[str, ...]:
    return tuple(other for other in names if other != name)


def _contradictions(now: Present, event: Event) -> list[str]:
    """Say what in a line does not fit with what was noted before it."""
    match event:
        case Stood():
            return _of_a_stand(now, event.frame)
        case SetAside():
            return _of_a_set_aside(now, event)
        case Missing() | Found() if event.frame in now.state.standing:
            return [f"{said(event)}, but was noted as standing: it no longer counts as standing"]
        case Damaged() if event.frame in now.state.standing:
            return [f"{said(event)}, and stands: whether it may stay is for whoever answers for the work"]
        case _:
            return []


def _of_a_stand(now: Present, frame: str) -> list[str]:
    if frame in now.state.standing:
        return [f"{frame} was noted as standing before: it counts once"]
    told = _from_under(now, frame, "stood")
    if frame in now.missing:
        told.append(f"{frame} stands, but was noted as missing: it was there after all")
    if frame in now.damaged:
        told.append(f"{frame} stands, but was noted as damaged: see that it may stay")
    return told


def _of_a_set_aside(now: Present, event: SetAside) -> list[str]:
    frame, heap = event.frame, now.heap(event.to)
    told = _from_under(now, frame, "set aside")
    if frame in now.state.standing:
        told.append(f"{said(event)}, but was noted as standing: it no longer counts as standing")
    if frame in now.missing:
        told.append(f"{said(event)}, but was noted as missing: it was there after all")
    if heap.kind != "pack":
        there = len(set(now.state.lying(heap)) | {frame})
        if there > now.spots[heap.name].holds:
            told.append(f"{heap} holds {now.spots[heap.name].holds} frames and now has {there}")
    return told


def _from_under(now: Present, frame: str, done: str) -> list[str]:
    above = now.state.above(frame)
    if not above or now.state.lies[frame].kind == "lean":
        return []
    return [f"{frame} was {done} from under {listed(above)} in {now.state.lies[frame]}"]
