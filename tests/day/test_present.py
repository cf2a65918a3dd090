"""Days on the room of nine frames, worked by hand.

Pack A from the top: W1, W2 / S2 / S1 / E1; pack B: I1 / N1, N2 / E2; P is a pile, L a lean.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from day_houses import busy_room, line, names, text

from packseq.day.journal import Journal, read_journal
from packseq.day.leftout import LeftOut, left_out, more_by_lap
from packseq.day.present import Present, present_state
from packseq.day.walked import walked_so_far_mm
from packseq.scenario.model import Place, StandChoices


def journal_of(tmp_path: Path, *lines: dict[str, Any]) -> Journal:
    file = tmp_path / "day.jsonl"
    file.write_text(text(lines), encoding="utf-8")
    journal = read_journal(file, names(busy_room()))
    assert journal.faults == ()
    return journal


def day(tmp_path: Path, *lines: dict[str, Any], stand: StandChoices | None = None) -> Present:
    house = busy_room(stand)
    return present_state(house, names(house), None, journal_of(tmp_path, *lines).lines)


def lying(now: Present) -> dict[str, list[tuple[int | None, tuple[str, ...]]]]:
    return {
        heap.name: [(layer.number, layer.frames) for layer in layers]
        for heap, layers in now.state.heaps.items()
    }


def aside(frame: str, **to: str) -> dict[str, Any]:
    return line("set aside", frame=frame, to=to)


def test_an_ordinary_morning(tmp_path: Path) -> None:
    now = day(
        tmp_path,
        aside("W1", spot="P"),
        aside("W2", spot="L"),
        aside("S2", pack="B"),
        line("stood", frame="S1"),
        line("stood", frame="S2"),
        line("crew", people=3),
    )
    assert now.state.stood == ("S1", "S2")
    assert lying(now) == {
        "A": [(4, ("E1",))],
        "B": [(1, ("I1",)), (2, ("N1", "N2")), (3, ("E2",))],
        "P": [(None, ("W1",))],
        "L": [(None, ("W2",))],
    }
    assert (now.extra_lifts, now.people, now.remarks) == (3, 3, ())


def test_a_pile_is_last_on_first_off_and_a_frame_put_on_a_pack_has_no_layer(tmp_path: Path) -> None:
    now = day(tmp_path, aside("W1", spot="P"), aside("W2", spot="P"), aside("S2", pack="B"))
    assert lying(now)["P"] == [(None, ("W2",)), (None, ("W1",))]
    assert lying(now)["B"][0] == (None, ("S2",))
    assert now.remarks == ()


def test_what_is_found_lies_in_that_layer_or_in_a_new_one_in_its_place(tmp_path: Path) -> None:
    now = day(
        tmp_path,
        line("found", frame="W1", where={"pack": "B", "layer": 2}),
        line("found", frame="W2", where={"pack": "B", "layer": 9}),
        line("found", frame="S2", where={"spot": "P"}),
        line("found", frame="E1", where={"pack": "A", "layer": 2}),
    )
    assert lying(now)["A"] == [(2, ("E1",)), (3, ("S1",))]
    assert lying(now)["B"] == [(1, ("I1",)), (2, ("N1", "N2", "W1")), (3, ("E2",)), (9, ("W2",))]
    assert lying(now)["P"] == [(None, ("S2",))]
    assert now.extra_lifts == 0


def test_missing_and_damaged_until_found(tmp_path: Path) -> None:
    lost = line("missing", frame="I1"), line("damaged", frame="E2"), line("missing", frame="W1")
    now = day(tmp_path, *lost)
    assert (now.missing, now.damaged) == (("W1", "I1"), ("E2",))
    assert lying(now)["B"] == [(2, ("N1", "N2")), (3, ("E2",))]
    again = line("found", frame="I1", where={"spot": "L"}), line("found", frame="E2", where={"spot": "L"})
    now = day(tmp_path, *lost, *again)
    assert (now.missing, now.damaged) == (("W1",), ())
    assert lying(now)["L"] == [(None, ("I1", "E2"))]


def test_a_frame_whose_set_aside_is_taken_back_lies_where_it_was(tmp_path: Path) -> None:
    now = day(tmp_path, aside("W1", spot="P"), line("undone", what="set aside", frame="W1"))
    assert lying(now)["A"][0] == (1, ("W1", "W2"))
    assert now.extra_lifts == 0


def test_a_pack_that_landed_elsewhere_lies_there(tmp_path: Path) -> None:
    now = day(tmp_path, line("landed", pack="A", at_mm=[100, -200], bearing_deg=90))
    assert now.places["A"] == Place((100, -200), 90)


@pytest.mark.parametrize(
    ("lines", "remark", "stood"),
    [
        (
            [line("stood", frame="W1"), line("stood", frame="W1")],
            "Row 2: W1 was noted as standing before: it counts once.",
            ("W1",),
        ),
        (
            [line("stood", frame="S1")],
            "Row 1: S1 was stood from under W1, W2, S2 in pack A.",
            ("S1",),
        ),
        (
            [aside("W1", spot="P"), aside("W2", spot="P"), aside("W1", spot="L")],
            "Row 3: W1 was set aside from under W2 in spot P.",
            (),
        ),
        (
            [line("stood", frame="W1"), aside("W1", spot="P")],
            "Row 2: W1 set aside on spot P, but was noted as standing: it no longer counts as standing.",
            (),
        ),
        (
            [line("stood", frame="W1"), line("missing", frame="W1")],
            "Row 2: W1 is missing, but was noted as standing: it no longer counts as standing.",
            (),
        ),
        (
            [line("missing", frame="W1"), line("stood", frame="W1")],
            "Row 2: W1 stands, but was noted as missing: it was there after all.",
            ("W1",),
        ),
        (
            [line("stood", frame="W1"), line("damaged", frame="W1")],
            "Row 2: W1 is damaged, and stands: whether it may stay is for whoever answers for the work.",
            ("W1",),
        ),
        (
            [line("undone", what="missing", frame="W1")],
            "Row 1: taken back: missing W1, but nothing such was noted before.",
            (),
        ),
        (
            [aside(name, spot="P") for name in ("W1", "W2", "S2", "I1", "N1")],
            "Row 5: spot P holds 4 frames and now has 5.",
            (),
        ),
    ],
)
def test_what_does_not_fit_is_accepted_as_found_and_said(
    tmp_path: Path, lines: list[dict[str, Any]], remark: str, stood: tuple[str, ...]
) -> None:
    now = day(tmp_path, *lines)
    assert now.remarks == (remark,)
    assert now.state.stood == stood


def test_metres_so_far_are_the_teams_way(tmp_path: Path) -> None:
    # The frames are open from end to end: every way is straight. From A at (2000, -3000) to the pile at
    # (-6000, 0) it is sqrt(8000^2 + 3000^2) = 8544 mm; back to A the same; to the lean at (-6000, 5000)
    # sqrt(8000^2 + 8000^2) = 11314 mm.
    now = day(tmp_path, aside("W1", spot="P"), aside("W2", spot="L"))
    assert walked_so_far_mm(now) == 8544 + 8544 + 11314


def test_metres_so_far_go_by_where_the_pack_lay_then(tmp_path: Path) -> None:
    # As above until A was moved to (-6000, 10000): 10000 mm from the pile, then 5000 mm to the lean.
    moved = line("landed", pack="A", at_mm=[-6000, 10000], bearing_deg=0)
    now = day(tmp_path, aside("W1", spot="P"), moved, aside("W2", spot="L"))
    assert walked_so_far_mm(now) == 8544 + 10000 + 5000


def why(left: LeftOut) -> dict[str, str]:
    return {entry.frame: entry.why for entry in left.absent}


def test_a_missing_frame_of_the_lap_holds_back_what_comes_after_it(tmp_path: Path) -> None:
    # S1, S2 stand in this order, so the lap goes on anticlockwise: E1, E2, N1, N2, W1, W2; one may be held
    # open, the last. Without N1 nothing can follow E2, and I1 waits for the perimeter.
    now = day(tmp_path, line("stood", frame="S1"), line("stood", frame="S2"), line("missing", frame="N1"))
    left = left_out(now)
    assert left.direction == "anticlockwise"
    assert why(left) == {"N1": "missing"}
    assert left.absent[0].holds_back == ("N2", "W1", "W2", "I1")
    assert {name: conflict.rules for name, conflict in left.held_back.items()} == {
        "N2": ("lap-order",),
        "W1": ("lap-order",),
        "W2": ("lap-order",),
        "I1": ("perimeter-first",),
    }
    # Both ways round: W2, W1, N2 from the other end, N1 held open. I1 touches S2.
    assert more_by_lap(now, left) == {"both-ways": 4, "free": 4}


def test_the_last_frame_of_the_lap_may_be_missing(tmp_path: Path) -> None:
    now = day(tmp_path, line("stood", frame="S1"), line("stood", frame="S2"), line("missing", frame="W2"))
    left = left_out(now)
    assert left.frames == ("W2",)
    assert left.absent[0].holds_back == ()
    assert more_by_lap(now, left) == {}


def test_the_direction_is_the_one_that_lets_more_stand(tmp_path: Path) -> None:
    # Nothing stands: clockwise the lap is S2, S1, W2, W1, N2, ... and only E1 comes last, to be held open.
    left = left_out(day(tmp_path, line("missing", frame="E1")))
    assert (left.direction, left.frames) == ("clockwise", ("E1",))


def test_a_missing_frame_of_the_reference_wall_holds_back_everything(tmp_path: Path) -> None:
    left = left_out(day(tmp_path, line("missing", frame="S1")))
    # From the other end S2 may be stood, and no more.
    assert left.direction == "clockwise"
    assert len(left.frames) == 8
    assert {conflict.rules for conflict in left.held_back.values()} == {("reference-first",)}


def test_a_small_crew_leaves_out_what_is_too_heavy_and_what_lies_under_it(tmp_path: Path) -> None:
    # Every frame takes 3 people (60 kg at 25 each). With 2 none can be lifted.
    left = left_out(day(tmp_path, line("crew", people=2)))
    assert len(left.frames) == 9
    assert set(why(left).values()) == {"needs 3 people, the crew now has 2"}


def test_what_only_several_missing_hold_back_is_held_back_by_none_alone(tmp_path: Path) -> None:
    # Under "free", with one frame that may be held open, I1 must wait while E1 and E2 are missing; with
    # either of them it need not. While a third is missing neither is enough.
    stand = StandChoices(lap="free")
    stood = [line("stood", frame="S1"), line("stood", frame="S2")]
    lost = [line("missing", frame="E1"), line("missing", frame="E2")]
    left = left_out(day(tmp_path, *stood, *lost, stand=stand))
    assert {entry.frame: entry.holds_back for entry in left.absent} == {"E1": ("I1",), "E2": ("I1",)}
    lost.append(line("missing", frame="N1"))
    left = left_out(day(tmp_path, *stood, *lost, stand=stand))
    assert {entry.holds_back for entry in left.absent} == {()}
    assert set(left.held_back) == {"I1"}
