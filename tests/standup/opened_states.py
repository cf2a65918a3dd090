"""Spaces of small houses laid open, and plans made of their moves by chance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from hypothesis import assume
from hypothesis import strategies as st
from walled_houses import walled_houses

from packseq.house.model import House
from packseq.plan.model import LapDirection
from packseq.routes.engine import build_routes
from packseq.standup.job import Job
from packseq.standup.rules import RULES
from packseq.standup.states.bits import Numbered
from packseq.standup.states.contents import Spots
from packseq.standup.states.legtable import LegTable
from packseq.standup.states.moves import FAR, ON_THE_LINE, Moves, Scale, costed_moves
from packseq.standup.states.prices import Crowd, Market, Pair, Prices, no_prices
from packseq.standup.states.relaxed import walk_from
from packseq.standup.states.seek import Sought, seek
from packseq.standup.states.space import Space, open_space
from packseq.standup.states.yard import Yard

SCALE = Scale(8, 8 * 1000)
"""A break counts 1, a millimetre 8, an extra lift as much as a metre."""
WIDE = 1_000_000


def yard_of(house: House, direction: LapDirection = "anticlockwise") -> Yard:
    scenario = house.scenario
    places = {name: pack.places[0] for name, pack in scenario.packs.items()}
    job = Job(house, direction, scenario.spots, places, frozenset(RULES), for_walking=True)
    return Yard(job, LegTable(build_routes(scenario), Numbered(job.frames)))


@dataclass(frozen=True)
class Laid:
    """A house with all states of plans of at most so many extra lifts, and their moves."""

    house: House
    yard: Yard
    most_lifts: int
    space: Space
    moves: Moves


@st.composite
def laid_open(draw: st.DrawFn) -> Laid:
    """Draw a walled house that has states leading to its end."""
    house = draw(walled_houses())
    yard = yard_of(house)
    most_lifts = len(yard.job.surely_waiting) + draw(st.integers(0, 2))
    space = open_space(yard, most_lifts)
    assume(space is not None and len(space))
    assert space is not None
    return Laid(house, yard, most_lifts, space, costed_moves(yard, space, SCALE))


@st.composite
def drawn_prices(draw: st.DrawFn, moves: Moves) -> Prices:
    """Draw prices of either sign by spot, and statements with a price each."""
    frames, spots = len(moves.yard.frames), len(moves.yard.spots)
    price = st.integers(-20_000, 20_000)
    by_spot = [[draw(price) for _ in range(spots)] for _ in range(frames)]
    statements: dict[Pair | Crowd, int] = {}
    waiting = Spots(moves).waiting
    for spot, each in enumerate(moves.yard.spots):
        order = draw(st.permutations(waiting))
        if len(order) > each.holds:
            crowd = Crowd(tuple(sorted(order[: each.holds])), order[each.holds], spot)
            statements[crowd] = draw(st.integers(0, 20_000))
        if each.kind == "pile" and len(order) > 1:
            statements[Pair(order[0], order[1], spot)] = draw(st.integers(0, 20_000))
    return Prices(np.array(by_spot, dtype=np.int64), statements)


def sought(moves: Moves, prices: Prices | None = None, *, most: int = int(FAR), width: int = WIDE) -> Sought:
    """Return what a search at some prices finds; at no prices unless given."""
    paid = no_prices(moves) if prices is None else prices
    return seek(moves, Market(moves).onward(paid), paid, most=most, width=width, stopped=lambda: False)


def real_plan(moves: Moves, dice: np.random.Generator) -> list[int] | None:
    """Return the moves of a plan made by chance, None where it runs into a dead end."""
    spots = Spots(moves)
    contents, node, position, taken = spots.empty(), 0, ON_THE_LINE, list[int]()
    while moves.first_move[node] < moves.first_move[node + 1]:
        rows = np.arange(moves.first_move[node], moves.first_move[node + 1])
        after, can = spots.after(contents.only(np.zeros(len(rows), dtype=np.int64)), rows)
        can &= walk_from(moves, node, position)[moves.place[rows]] < FAR
        if not can.any():
            return None
        chosen = int(dice.choice(np.flatnonzero(can)))
        contents = after.only(np.array([chosen]))
        taken.append(int(rows[chosen]))
        node, position = int(moves.target[taken[-1]]), int(moves.position[taken[-1]])
    return taken if moves.standing[node].tolist() == moves.yard.frames.all.tolist() else None


def cost_of(moves: Moves, plan: list[int]) -> int:
    """Return what a plan costs: every walk to a pick-up, and every move from there on."""
    node, position, cost = 0, ON_THE_LINE, 0
    for move in plan:
        cost += int(walk_from(moves, node, position)[moves.place[move]]) + int(moves.cost[move])
        node, position = int(moves.target[move]), int(moves.position[move])
    return cost
