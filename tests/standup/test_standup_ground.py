"""Packs and spots over lines and inside walls: who must wait because of where things lie."""

from __future__ import annotations

from collections.abc import Sequence

from opened_states import yard_of
from oracle import Oracle
from small_house import HUT_LINES, HUT_ROUND, frame, house_of, hut, lean, pack, plan_of, round_touches
from standup_jobs import checked, stages
from walled_houses import LINES, PLACES

from packseq.house.model import House, LevelHouse
from packseq.scenario.model import Frame, Opening, Pack, Place, Spot, StandChoices
from packseq.standup.search import plan_standup
from packseq.standup.ways import shut_outs

ANTICLOCKWISE = StandChoices(direction="anticlockwise", hold_open=0)
INSIDE = Spot("Q", 1, (4000, 6000), 0.0, (3000, 2400), "lean", 3)
OUTSIDE = Spot("O", 1, (-5000, 4000), 0.0, (3000, 2400), "lean", 3)


def walled_hut(packs: Sequence[Pack], spot: Spot) -> House:
    """Return the hut with solid walls and an internal frame I1 that goes up last."""
    frames = [frame(name, line, solid=True) for name, line in HUT_LINES.items()]
    frames.append(frame("I1", ((1500, 100), (1500, 3000)), solid=True))
    level = LevelHouse(1, HUT_ROUND, ("S1",), closed=True, internals=("I1",))
    touches = round_touches(HUT_ROUND, {"I1": ("S1",)})
    return house_of(frames, packs, (level,), touches, spots=(spot,), stand=ANTICLOCKWISE)


def planned_as_by_trying(house: House, text: str) -> None:
    """Hold a plan to the oracle's, which is the one given."""
    best = Oracle(house).best()
    assert best is not None
    assert " ".join(best.moves) == text
    done = checked(house, plan_of(house, text))
    assert (done.cost.extra_lifts, done.cost.walking_mm, done.cost.breaks) == best.cost
    plan = plan_standup(house, limit_s=60)
    checked(house, plan)
    assert (plan.status, tuple(stage.value for stage in plan.stages)) == ("optimal", best.cost)


def test_a_frame_that_must_be_inside_before_the_walls_close_waits_inside() -> None:
    # Nothing lies beneath I1: it is set aside only because of the way in.
    packs = (pack("A", (6000, -4000), (HUT_ROUND,)), pack("B", (-9000, -4000), (("I1",),), length_mm=3000))
    planned_as_by_trying(walled_hut(packs, INSIDE), "I1>Q S1 E1 N1 W1 I1")


def test_a_frame_delivered_inside_needs_no_way_in() -> None:
    packs = (pack("A", (6000, -4000), (HUT_ROUND,)), pack("B", (4000, 6000), (("I1",),), length_mm=3000))
    planned_as_by_trying(walled_hut(packs, OUTSIDE), "S1 E1 N1 W1 I1")


def test_a_pack_over_the_reference_wall_is_emptied_first() -> None:
    # The only frame of pack B must wait, though nothing lies beneath it.
    packs = (pack("A", (6000, -4000), (HUT_ROUND,)), pack("B", (3000, 0), (("I1",),), length_mm=3000))
    planned_as_by_trying(walled_hut(packs, INSIDE), "I1>Q S1 E1 N1 W1 I1")


def test_every_frame_of_a_pack_over_the_reference_wall_waits_the_lowest_too() -> None:
    packs = (pack("A", (3000, 0), (("W1",), ("N1",))), pack("B", (6000, -9000), (("S1", "E1"),)))
    house = hut(packs=packs, spots=(lean(at=(-5000, -8000)),), stand=ANTICLOCKWISE)
    planned_as_by_trying(house, "W1>L N1>L S1 E1 N1 W1")


def test_what_shuts_a_waiting_frame_out_does_not_shut_it_out_of_its_pack() -> None:
    packs = (pack("A", (6000, -4000), (HUT_ROUND,)), pack("B", (4000, 6000), (("I1",),), length_mm=3000))
    yard = yard_of(walled_hut(packs, OUTSIDE))
    order = (*HUT_ROUND, "I1")
    assert list(shut_outs(yard, order, ())) == []
    (known,) = shut_outs(yard, order, ("I1",))
    assert (known.frame, known.by, known.unless_aside) == ("I1", frozenset(HUT_ROUND), False)


def test_what_shuts_a_frame_out_of_its_pack_does_not_shut_it_out_of_a_spot() -> None:
    packs = (pack("A", (6000, -4000), (HUT_ROUND,)), pack("B", (-9000, -4000), (("I1",),), length_mm=3000))
    yard = yard_of(walled_hut(packs, INSIDE))
    order = (*HUT_ROUND, "I1")
    assert list(shut_outs(yard, order, ("I1",))) == []
    (known,) = shut_outs(yard, order, ())
    assert (known.frame, known.by, known.unless_aside) == ("I1", frozenset(HUT_ROUND), True)


def test_a_bound_holds_where_frames_could_wait_outside_of_walls_that_their_pack_lies_within() -> None:
    # The pack lies where the kitchen is to be, the only spot east of the house.
    wide = (Opening("opening", 410, 1300, 0, 2450),)
    heights = {"I2": 2700.0}
    openings = {"S": wide, "N": wide, "W": (Opening("window", 500, 1200, 900, 2040),)}
    frames = [
        Frame(
            name,
            1,
            *line,
            heights.get(name, 2400.0),
            90,
            "internal" if "I" in name else "external",
            60.0,
            False,
            openings.get(name, ()),
            2,
        )
        for name, line in LINES.items()
    ]
    layers = (("N",), ("I1", "S"), ("W",), ("E",), ("I2",))
    inside, east = (1150.0, 4030.0), (9170.0, 2570.0)
    assert {inside, east} <= set(PLACES)
    packs = (Pack("A", 1, (Place(inside, 90.0),), 0, layers, (1, 2, 3, 4, 5), 2500, 700),)
    spot = Spot("P", 1, east, 0.0, (6100.0, 2700.0), "lean", 2)
    level = LevelHouse(1, ("S", "E", "N", "W"), ("S",), closed=True, internals=("I1", "I2"))
    touches = round_touches(level.perimeter, {"I1": ("N",), "I2": ("S", "W")})
    stand = StandChoices(lap="free", direction="anticlockwise", hold_open=2)
    house = house_of(frames, packs, (level,), touches, spots=(spot,), stand=stand)
    best = Oracle(house).best()
    assert best is not None
    plan = plan_standup(house, limit_s=60)
    checked(house, plan)
    lifts = stages(plan)["extra lifts"]
    assert lifts.bound <= best.cost[0] <= lifts.value
