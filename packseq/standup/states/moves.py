"""The moves between states, with where the team stands before and after each and what it walks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from packseq.standup.states.bits import Flags, Whole
from packseq.standup.states.kinds import Kind
from packseq.standup.states.legtable import NO_WAY
from packseq.standup.states.space import Space
from packseq.standup.states.yard import Yard

FAR = np.int64(1) << 60
"""The cost of what cannot be done: more than any plan costs, and no sum of a few overflows."""

ON_THE_LINE = 0
"""Position of a team at the line of the frame stood last; 1 + s is at spot s."""

NOBODY = -1
"""In place of the frame stood last, before the first; in place of a spot, where none is used."""


_MOVE = ("node", "place", "target", "position", "frame", "kind", "spot", "cost")
"""What is said of each move, in this order."""


@dataclass(frozen=True)
class Scale:
    """How lifts, walking and breaks become one number: walking first, a break counts one."""

    mm_worth: int
    lift_worth: int


@dataclass(frozen=True)
class Moves:
    """The moves of a space. Its nodes are states together with the frame stood last.

    Attributes
    ----------
    state, last
        The state and the frame stood last of each node, in the order of layers.
    starts
        First node of each layer.
    node, place, target, position, frame, kind, spot, cost
        For each move, sorted by `node`, then `place`: the node it leaves, the place of the pick-up, the
        node it leads to and the position of the team there, what is lifted, how, the spot used or
        `NOBODY`, and what it costs from the pick-up on.
    line_to_place
        Shape (nodes, places): the cost of walking from the line of the frame stood last.
    spot_to_place, spot_class
        Shape (classes, spots, places): the cost of walking from each spot; the class of each node.
    """

    yard: Yard
    scale: Scale
    gone: NDArray[np.uint64]
    standing: NDArray[np.uint64]
    state: Whole
    last: Whole
    starts: Whole
    node: Whole
    place: Whole
    target: Whole
    position: Whole
    frame: Whole
    kind: Whole
    spot: Whole
    cost: Whole
    line_to_place: Whole
    spot_to_place: Whole
    spot_class: Whole

    def __len__(self) -> int:
        return len(self.node)

    @property
    def nodes(self) -> int:
        """How many nodes there are; the last ones have everything standing."""
        return len(self.state)

    @cached_property
    def first_move(self) -> Whole:
        """Where the moves of each node begin; one entry more than nodes."""
        return np.searchsorted(self.node, np.arange(self.nodes + 1))

    def only(self, wanted: Flags) -> Moves:
        """Return these nodes with some of the moves."""
        return replace(self, **{name: getattr(self, name)[wanted] for name in _MOVE})


def costed_moves(yard: Yard, space: Space, scale: Scale) -> Moves:
    """Return the moves of a space with what they cost by the routes of each moment."""
    state, last, starts, before, edge, after = _nodes(yard, space)
    pieces = [
        *_to_lines(yard, space, scale, (last, before, edge, after)),
        *_to_spots(yard, space, scale, (before, edge, after)),
    ]
    columns = [np.concatenate(column) for column in zip(*pieces, strict=True)]
    fine = columns[-1] < FAR
    columns = [column[fine] for column in columns]
    order = np.lexsort((columns[1], columns[0]))
    node, place, target, position, frame, kind, spot, cost = (column[order] for column in columns)
    spot_to_place, class_of_state = _from_spots(yard, space, scale)
    return Moves(
        yard,
        scale,
        space.gone[state],
        space.standing[state],
        state,
        last,
        starts,
        node,
        place,
        target,
        position,
        frame,
        kind,
        spot,
        cost,
        _from_lines(yard, space, scale, state, last),
        spot_to_place,
        class_of_state[state],
    )


def _nodes(yard: Yard, space: Space) -> tuple[Whole, Whole, Whole, Whole, Whole, Whole]:
    """Return nodes and, for each pair of node and edge, the node before, the edge, the node after."""
    count = len(yard.frames) + 1
    edges = space.edges
    bounds = np.searchsorted(edges.source, np.arange(len(space) + 1))
    pending: list[list[tuple[Whole, Whole, Whole]]] = [[] for _ in space.starts]
    nothing = np.zeros(0, dtype=np.int64)
    pending[0] = [(nothing, nothing, np.array([count - 1], dtype=np.int64))]
    codes, starts, befores, taken, afters, total = [], [], [], [], [], 0
    for layer, arrivals in enumerate(pending):
        starts.append(total)
        if not arrivals:
            continue
        code, place = np.unique(np.concatenate([each[2] for each in arrivals]), return_inverse=True)
        codes.append(code)
        if layer:
            befores.append(np.concatenate([each[0] for each in arrivals]))
            taken.append(np.concatenate([each[1] for each in arrivals]))
            afters.append(total + place.reshape(-1))
        state, last = code // count, code % count
        lengths = bounds[state + 1] - bounds[state]
        node = np.repeat(np.arange(total, total + len(code)), lengths)
        edge = np.repeat(bounds[state], lengths) + _counted(lengths)
        aside = edges.kind[edge] == Kind.ASIDE
        onward = np.where(aside, np.repeat(last, lengths), edges.frame[edge])
        reached = edges.target[edge] * count + onward
        far = edges.kind[edge] == Kind.STRAIGHT
        for step, those in ((1, ~far), (2, far)):
            if those.any():
                pending[layer + step].append((node[those], edge[those], reached[those]))
        total += len(code)
    code = np.concatenate(codes)
    last = code % count
    before, edge, after = (np.concatenate([nothing, *each]) for each in (befores, taken, afters))
    return code // count, np.where(last == count - 1, NOBODY, last), np.array(starts), before, edge, after


def _counted(lengths: Whole) -> Whole:
    """Return 0, 1, 2, ... anew for each length."""
    ends = np.cumsum(lengths)
    return np.arange(ends[-1] if len(ends) else 0) - np.repeat(ends - lengths, lengths)


_Columns = tuple[Whole, ...]


def _to_lines(
    yard: Yard, space: Space, scale: Scale, pairs: tuple[Whole, Whole, Whole, Whole]
) -> list[_Columns]:
    """Return the moves that stand a frame, straight off its pack or off each spot that takes it."""
    last, before, edge, after = pairs
    edges, pieces = space.edges, []
    touching = np.array(
        [
            [other in yard.job.house.touches[name] for other in yard.frames.names] + [True]
            for name in yard.frames.names
        ]
    )
    for kind in (Kind.STRAIGHT, Kind.OFF_SPOT):
        of_kind = np.flatnonzero(edges.kind[edge] == kind)
        for frame in np.unique(edges.frame[edge[of_kind]]).tolist():
            rows = of_kind[edges.frame[edge[of_kind]] == frame]
            broken = ~touching[frame][last[before[rows]]]
            sources = [yard.pack_of[frame]]
            if kind is Kind.OFF_SPOT:
                sources = [len(yard.packs) + spot for spot in yard.fitting[frame]]
            for place in sources:
                spot = place - len(yard.packs) if kind is Kind.OFF_SPOT else NOBODY
                mm = _by_edge(yard, space, edge[rows], (place, frame))
                cost = np.where(mm == NO_WAY, FAR, mm * scale.mm_worth + broken)
                same = {"place": place, "position": ON_THE_LINE, "frame": frame, "kind": kind, "spot": spot}
                pieces.append(_columns(before[rows], after[rows], cost, **same))
    return pieces


def _to_spots(yard: Yard, space: Space, scale: Scale, pairs: tuple[Whole, Whole, Whole]) -> list[_Columns]:
    """Return the moves that set a frame aside, on each spot that takes it and has no frame across it."""
    before, edge, after = pairs
    edges, pieces = space.edges, []
    of_kind = np.flatnonzero(edges.kind[edge] == Kind.ASIDE)
    for frame in np.unique(edges.frame[edge[of_kind]]).tolist():
        rows = of_kind[edges.frame[edge[of_kind]] == frame]
        place = yard.pack_of[frame]
        for spot in yard.fitting[frame]:
            if yard.lying_on[spot] == place:
                continue
            mm = _by_edge(yard, space, edge[rows], (place, frame, spot))
            free = yard.is_free(spot, space.standing[edges.source[edge[rows]]])
            cost = np.where((mm == NO_WAY) | ~free, FAR, mm * scale.mm_worth + scale.lift_worth)
            same = {"place": place, "position": 1 + spot, "frame": frame, "kind": Kind.ASIDE, "spot": spot}
            pieces.append(_columns(before[rows], after[rows], cost, **same))
    return pieces


def _by_edge(yard: Yard, space: Space, edge: Whole, what: tuple[int, ...]) -> Whole:
    """Return the loaded leg of each edge: from a place to the frame's line, or to a spot."""
    place, frame, *spot = what
    end = yard.stops[len(yard.packs) + spot[0]] if spot else yard.lines[frame]
    unique, back = np.unique(edge, return_inverse=True)
    standing = space.standing[space.edges.source[unique]]
    return yard.legs.lengths_mm(yard.stops[place], end, yard.frame(frame), standing)[back.reshape(-1)]


def _columns(node: Whole, target: Whole, cost: Whole, **same: int) -> _Columns:
    """Return moves that differ in where they lead from and to only, in the order of `_MOVE`."""
    given = {"node": node, "target": target, "cost": cost}
    return tuple(
        given[name] if name in given else np.full(len(node), same[name], dtype=np.int64) for name in _MOVE
    )


def _from_lines(yard: Yard, space: Space, scale: Scale, state: Whole, last: Whole) -> Whole:
    """Return the cost of walking empty-handed from the line of the frame stood last to each place."""
    costs = np.zeros((len(state), len(yard.stops)), dtype=np.int64)
    for frame in np.unique(last).tolist():
        rows = np.flatnonzero(last == frame)
        if frame == NOBODY:
            continue
        for place, stop in enumerate(yard.stops):
            mm = yard.legs.lengths_mm(yard.lines[frame], stop, None, space.standing[state[rows]])
            costs[rows, place] = np.where(mm == NO_WAY, FAR, mm * scale.mm_worth)
    return costs


def _from_spots(yard: Yard, space: Space, scale: Scale) -> tuple[Whole, Whole]:
    """Return the cost of walking empty-handed from each spot to each place, by class of states."""
    spots = range(len(yard.packs), len(yard.stops))
    stands, back = np.unique(space.standing, axis=0, return_inverse=True)
    flat = np.zeros((len(stands), len(yard.spots) * len(yard.stops)), dtype=np.int64)
    column = 0
    for spot in spots:
        for stop in yard.stops:
            mm = yard.legs.lengths_mm(yard.stops[spot], stop, None, stands)
            flat[:, column] = np.where(mm == NO_WAY, FAR, mm * scale.mm_worth)
            column += 1
    rows, class_of = np.unique(flat, axis=0, return_inverse=True)
    shaped = rows.reshape(len(rows), len(yard.spots), len(yard.stops))
    return shaped, class_of.reshape(-1)[back.reshape(-1)]
