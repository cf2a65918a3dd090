"""Random plans: the replay agrees with a second, plainer reading of the rules, and never raises."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from hypothesis import given, settings
from hypothesis import strategies as st
from small_house import ROOM_ROUND, hut, lean, pack, pile, plan_of, room

from packseq.check import replay
from packseq.house.model import House
from packseq.plan.build import Step, build_plan
from packseq.plan.model import Move, Plan, Where
from packseq.scenario.model import Lap, StandChoices

NAMES = (*ROOM_ROUND, "I1")


def keeps_order(house: House, order: Sequence[str]) -> bool:
    """Tell whether a stand order of the room keeps the order rules, straight from their words."""
    choices, touches = house.scenario.stand, house.touches
    perimeter = [name for name in order if name != "I1"]
    if any(not set(touches[name]) & set(order[:place]) for place, name in enumerate(order) if place):
        return False
    held = perimeter[order.index("I1") :]
    if len(held) > choices.hold_open or {"S1", "S2"} & set(held):
        return False
    if {order[0], order[1]} != {"S1", "S2"}:
        return False
    if choices.lap == "one-way":
        clockwise = ["S2", "S1", "W2", "W1", "N2", "N1", "E2", "E1"]
        return perimeter in (list(ROOM_ROUND), clockwise)
    if choices.lap == "both-ways":
        return all(unbroken(perimeter[:count]) for count in range(1, 9))
    return True


def unbroken(names: Sequence[str]) -> bool:
    """Tell whether frames make one stretch of the way round: at most one begins after a hole."""
    standing = [name in names for name in ROOM_ROUND]
    return sum(here and not standing[place - 1] for place, here in enumerate(standing)) <= 1


@st.composite
def stand_orders(draw: st.DrawFn) -> list[str]:
    """Draw orders that are often valid: a lap grown at either end, I1 anywhere, then a few swaps."""
    lap = list(draw(st.sampled_from([["S1", "S2"], ["S2", "S1"]])))
    rest = list(ROOM_ROUND[2:])
    turning = draw(st.sampled_from(["on", "back", "either"]))
    while rest:
        forward = draw(st.booleans()) if turning == "either" else turning == "on"
        lap.append(rest.pop(0 if forward else -1))
    lap.insert(draw(st.integers(5, 8)), "I1")
    for _ in range(draw(st.integers(0, 2))):
        place = draw(st.integers(0, 7))
        lap[place], lap[place + 1] = lap[place + 1], lap[place]
    return lap


@settings(max_examples=400, deadline=None)
@given(
    order=stand_orders(),
    lap=st.sampled_from(["one-way", "both-ways", "free"]),
    hold_open=st.integers(0, 3),
)
def test_order_rules_agree_with_a_plain_reading(order: list[str], lap: Lap, hold_open: int) -> None:
    house = room(stand=StandChoices(lap=lap, hold_open=hold_open))
    done = replay(house, plan_of(house, " ".join(order)))
    rules = {each.rule for each in done.violations} - {"plan-file"}
    assert (not rules) == keeps_order(house, order), (order, rules)


TARGETS = ("P", "L", "B+")


def keeps_heaps(moves: Sequence[tuple[str, str | None]]) -> bool:
    """Tell whether moves in the hut's two packs keep pack, pile and lean, with plain lists."""
    heaps: dict[str, list[str]] = {"A": ["W1", "S1"], "B+": ["E1", "N1"], "P": [], "L": []}
    for name, target in moves:
        source = next(key for key, lying in heaps.items() if name in lying)
        if source != "L" and heaps[source][0] != name:
            return False
        heaps[source].remove(name)
        if target is None:
            continue
        if target == "B+" and (source == "B+" or len(heaps["B+"]) > 2):
            return False
        if target in ("P", "L") and len(heaps[target]) >= 2:
            return False
        heaps[target].insert(0, name)
    return True


@st.composite
def lifts(draw: st.DrawFn) -> list[tuple[str, str | None]]:
    """Draw up to six set-asides, then stand all four frames in some order."""
    aside = st.tuples(st.sampled_from(["W1", "S1", "E1", "N1"]), st.sampled_from(TARGETS))
    first: list[tuple[str, str | None]] = list(draw(st.lists(aside, max_size=4)))
    order = draw(st.permutations(["W1", "S1", "E1", "N1"]))
    return [*first, *((name, None) for name in order)]


@settings(max_examples=400, deadline=None)
@given(moves=lifts())
def test_heap_rules_agree_with_plain_lists(moves: list[tuple[str, str | None]]) -> None:
    packs = (
        pack("A", (6000, -4000), (("W1",), ("S1",))),
        pack("B", (0, -4000), (("E1",), ("N1",)), holds=2),
    )
    house = hut(packs=packs, spots=(pile(holds=2), lean(holds=2)))
    text = " ".join(name if target is None else f"{name}>{target}" for name, target in moves)
    found = {each.rule for each in replay(house, plan_of(house, text)).violations}
    assert (not found & {"top-of-pack", "spot-room"}) == keeps_heaps(moves), text


SOUND_HOUSE = hut(spots=(pile(),))
SOUND = plan_of(SOUND_HOUSE, "W1>P S1 E1 N1 W1")


def _swapped(plan: Plan, one: int, other: int) -> Plan:
    moves = list(plan.moves)
    moves[one], moves[other] = moves[other], moves[one]
    return plan.model_copy(update={"moves": tuple(moves)})


def _dropped(plan: Plan, one: int) -> Plan:
    return plan.model_copy(update={"moves": (*plan.moves[:one], *plan.moves[one + 1 :])})


def _changed(plan: Plan, one: int, changes: Mapping[str, object]) -> Plan:
    move = plan.moves[one].model_copy(update=dict(changes))
    return plan.model_copy(update={"moves": (*plan.moves[:one], move, *plan.moves[one + 1 :])})


PLACE = st.integers(0, len(SOUND.moves) - 1)
NUMBER = st.integers(0, 20_000)
MUTATIONS = st.one_of(
    st.builds(_swapped, st.just(SOUND), PLACE, PLACE),
    st.builds(_dropped, st.just(SOUND), PLACE),
    st.builds(
        _changed,
        st.just(SOUND),
        PLACE,
        st.one_of(
            st.fixed_dictionaries({"frame": st.sampled_from(["S1", "E1", "N1", "W1", "s1", "Q"])}),
            *(
                st.fixed_dictionaries({field: NUMBER})
                for field in ("n", "stand", "people", "empty_mm", "loaded_mm")
            ),
            st.fixed_dictionaries({"touches": st.lists(st.sampled_from(NAMES), max_size=3).map(tuple)}),
            st.fixed_dictionaries({"do": st.sampled_from(["stand", "set aside"])}),
        ),
    ),
)


def _said(plan: Plan) -> list[dict[str, object]]:
    """Return the moves with touches sorted: their order says nothing."""
    said = []
    for move in plan.moves:
        fields = move.model_dump()
        fields["touches"] = None if move.touches is None else sorted(move.touches)
        said.append(fields)
    return said


@settings(max_examples=300, deadline=None)
@given(plan=MUTATIONS)
def test_every_change_to_a_sound_plan_is_caught(plan: Plan) -> None:
    """Everything that a move says follows from the steps before it, so no change can go unseen."""
    assert replay(SOUND_HOUSE, plan).kept == (_said(plan) == _said(SOUND))


SOME_NAME = st.sampled_from(["S1", "E1", "N1", "W1", "A", "P", "Q", "I9", " ", "s1"])
SOME_WHERE = st.builds(
    Where,
    pack=st.none() | SOME_NAME,
    spot=st.none() | SOME_NAME,
    layer=st.none() | st.integers(0, 9),
)
SOME_MOVE = st.builds(
    Move,
    n=NUMBER,
    do=st.sampled_from(["stand", "set aside"]),
    stand=st.none() | NUMBER,
    frame=SOME_NAME,
    origin=SOME_WHERE,
    to=st.none() | SOME_WHERE,
    people=NUMBER,
    empty_mm=NUMBER,
    loaded_mm=NUMBER,
    touches=st.none() | st.lists(SOME_NAME, max_size=3).map(tuple),
)


@settings(max_examples=200, deadline=None)
@given(moves=st.lists(SOME_MOVE, max_size=30), direction=st.sampled_from([None, "clockwise"]))
def test_no_plan_makes_the_replay_raise(moves: list[Move], direction: str | None) -> None:
    plan = SOUND.model_copy(update={"moves": tuple(moves), "direction": direction})
    done = replay(SOUND_HOUSE, plan)
    assert not done.kept
    assert len(done.walked) == len(moves)
    assert len(tuple(done.states())) == len(moves)


def test_a_plan_of_endless_set_asides_is_counted_to_its_end() -> None:
    house = hut((("S1", "E1", "N1", "W1"),), spots=(pile("P"), pile("Q", (0, -8000))))
    there = [Step("set aside", "W1", to_spot="PQ"[turn % 2]) for turn in range(2000)]
    stands = [Step("stand", name) for name in ("S1", "E1", "N1", "W1")]
    place = {"A": house.scenario.packs["A"].places[0]}
    done = replay(house, build_plan(house, [*there, *stands], spots=house.scenario.spots, places=place))
    assert done.violations == ()
    assert done.cost.extra_lifts == 2000
