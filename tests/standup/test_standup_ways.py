"""Frames set aside for the ground they lie on, or for the way in: not only for what lies beneath."""

from __future__ import annotations

from small_house import frame, house_of, hut, lean, pack, round_touches
from standup_jobs import checked

from packseq.house.model import House, LevelHouse
from packseq.scenario.model import Spot, StandChoices
from packseq.standup.search import plan_standup

AWAY = lean("L", at=(0, -9000))


def lifts_of(house: House) -> tuple[int, int]:
    """Return the extra lifts of the plan, checked, and their bound."""
    plan = plan_standup(house, limit_s=20)
    checked(house, plan)
    return plan.stages[0].value, plan.stages[0].bound


def test_a_pack_across_the_first_line_is_emptied_first() -> None:
    # The pack lies across S1, which comes first. E1 and N1 beneath it must be gone by then, and S1 before
    # them: all four are lifted twice.
    assert lifts_of(
        hut(packs=(pack("A", (3000, 0), [("W1",), ("S1",), ("E1",), ("N1",)]),), spots=(AWAY,))
    ) == (4, 4)


def test_the_last_frame_of_a_pack_may_be_stood_where_it_lies() -> None:
    # S1 lies at the bottom: only the other three are lifted twice.
    assert lifts_of(
        hut(packs=(pack("A", (3000, 0), [("W1",), ("E1",), ("N1",), ("S1",)]),), spots=(AWAY,))
    ) == (3, 3)


def test_a_pack_across_a_late_line_costs_nothing_if_it_is_empty_by_then() -> None:
    # The pack lies across W1, which anticlockwise is the last of all and lies at the bottom.
    stand = StandChoices(direction="anticlockwise")
    across = pack("A", (0, 4000), [("S1",), ("E1",), ("N1",), ("W1",)], length_mm=2000)
    assert lifts_of(hut(packs=(across,), spots=(AWAY,), stand=stand)) == (0, 0)


def closed_house(*spots: Spot) -> House:
    """Return four solid walls of 8 m, closed before I1 is stood; I1, 2 m long, is alone in a pack outside."""
    lines = {
        "S1": ((0, 0), (8000, 0)),
        "E1": ((8000, 0), (8000, 8000)),
        "N1": ((8000, 8000), (0, 8000)),
        "W1": ((0, 8000), (0, 0)),
        "I1": ((4000, 0), (4000, 2000)),
    }
    frames = [frame(name, line, solid=True) for name, line in lines.items()]
    level = LevelHouse(1, ("S1", "E1", "N1", "W1"), ("S1",), closed=True, internals=("I1",))
    packs = (
        pack("A", (4000, -5000), [("S1",), ("E1",), ("N1",), ("W1",)]),
        pack("B", (12000, -5000), [("I1",)], length_mm=2000),
    )
    touches = round_touches(level.perimeter, {"I1": ("S1",)})
    stand = StandChoices(direction="anticlockwise", hold_open=0)
    return house_of(frames, packs, (level,), touches, spots=spots, stand=stand)


def test_a_frame_with_nothing_beneath_waits_inside_where_its_way_will_be_closed() -> None:
    # I1 has nothing beneath it and comes last, but by then no way leads in: it is carried in early, to wait.
    inside = Spot("L", 1, (4000, 5000), 0.0, (2400, 1000), "lean", 1)
    assert lifts_of(closed_house(inside)) == (1, 1)
