"""What the page draws and lists at each step, taken from the check's own replay."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from hashlib import sha256
from itertools import chain
from typing import Any

from packseq.check import Replay
from packseq.check.state import Heap, State
from packseq.drawing.canvas import Drawing, View
from packseq.drawing.floorplan import plan_parts, plan_view, shown_as_planned
from packseq.drawing.furniture import north_mark, scale_bar
from packseq.geometry import Point
from packseq.house.model import House
from packseq.page.markup import tag
from packseq.plan.file import plan_json
from packseq.plan.model import Move, Plan

_FOOT_MM = 8.0
_NORTH_MM = 7.0


def live_view(house: House, plan: Plan, level: int) -> View:
    """Return how the ground of a level becomes the drawing that changes from step to step."""
    return replace(plan_view(shown_as_planned(house, plan, level)), at_mm=(0.0, 0.0))


def live_drawing(house: House, plan: Plan, level: int) -> Drawing:
    """Return the drawing of a level that the page changes from step to step."""
    shown, view = shown_as_planned(house, plan, level), live_view(house, plan, level)
    parts = (
        *plan_parts(shown, view),
        north_mark((view.width_mm - 3, _NORTH_MM + 6), _NORTH_MM),
        scale_bar(view, (2.0, view.height_mm + 5), scale_told=False),
    )
    title = "The house as it stands at this step" + (f", level {level}" if len(house.levels) > 1 else "")
    return Drawing(view.width_mm, view.height_mm + _FOOT_MM, title, parts)


def page_data(done: Replay) -> dict[str, Any]:
    """Return what the page works from: names, moves with their routes on paper, and every state.

    ``states[n]`` is the check's state after move ``n``: how many frames of ``order`` stand, and what
    lies in each heap, top layer first. ``known`` tells the lines of the journal that the plan was made
    from, how many and the time of the last. Frames and heaps are told by their places in ``frames`` and
    ``heaps``.
    """
    house, plan = done.job.house, done.plan
    states = tuple(chain((done.job.beginning,), done.states()))
    places = _Places(
        frames={name: place for place, name in enumerate(house.scenario.frames)},
        heaps={heap: place for place, heap in enumerate(done.job.beginning.heaps)},
        views={level.level: live_view(house, plan, level.level) for level in house.levels},
    )
    return {
        "scenario": plan.scenario,
        "scenario_sha256": plan.scenario_sha256,
        "plan_sha256": sha256(plan_json(plan).encode()).hexdigest(),
        "people": house.scenario.crew.people,
        "frames": list(places.frames),
        "levels": [frame.level for frame in house.scenario.frames.values()],
        "heaps": [
            {"kind": heap.kind, "name": heap.name, "said": str(heap), "level": done.job.stop(heap).level}
            for heap in places.heaps
        ],
        "packs": {
            name: {"layers": house.scenario.packs[name].layer_numbers, "at": place}
            for name, place in plan.places.items()
        },
        "known": None if plan.begins is None else {"lines": plan.begins.lines, "at": plan.begins.last_at},
        "order": [places.frames[name] for name in states[-1].stood],
        "moves": [
            _move(done, move, state, places) for move, state in zip(plan.moves, states[:-1], strict=True)
        ],
        "states": [
            {
                "stood": len(state.stood),
                "lies": [
                    [[places.frames[name] for name in layer.frames] for layer in state.heaps[heap]]
                    for heap in places.heaps
                ],
            }
            for state in states
        ],
    }


@dataclass(frozen=True, slots=True)
class _Places:
    """Where each frame and heap comes in the page's data, and how each level is drawn."""

    frames: Mapping[str, int]
    heaps: Mapping[Heap, int]
    views: Mapping[int, View]


def data_element(data: Mapping[str, Any], element_id: str) -> str:
    """Return data as an element that a browser neither runs nor shows.

    No character in it can end the element: whatever a name is, it stays data.
    """
    text = json.dumps(data, separators=(",", ":"))
    for letter in "<>&":
        text = text.replace(letter, f"\\u{ord(letter):04x}")
    return tag("script", text, type="application/json", id=element_id)


def _move(done: Replay, move: Move, state: State, places: _Places) -> dict[str, Any]:
    frame = done.job.house.scenario.frames[move.frame]
    source = state.lies[move.frame]
    target = None if move.to is None else done.job.heap(pack=move.to.pack, spot=move.to.spot)
    route = places.views[frame.level].ring(route_of(done, move, source, target))
    return {
        "do": move.do,
        "frame": places.frames[move.frame],
        "stand": move.stand,
        "level": frame.level,
        "from": places.heaps[source],
        "to": None if target is None else places.heaps[target],
        "route": [[round(x, 2), round(y, 2)] for x, y in route],
    }


def route_of(done: Replay, move: Move, source: Heap, target: Heap | None) -> tuple[Point, ...]:
    """Return the way of a carried frame on the ground: as the plan has it, else straight."""
    if move.route_mm:
        return move.route_mm
    end = done.job.house.scenario.frames[move.frame].middle if target is None else done.job.stop(target).point
    return done.job.stop(source).point, end
