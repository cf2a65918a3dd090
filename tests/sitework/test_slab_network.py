from __future__ import annotations

import math
from itertools import combinations
from random import Random

import numpy as np
import pytest
from scipy.optimize import least_squares

from packseq.geometry import Point
from packseq.sitework.slab.enough import loose_corners, missing_tapes
from packseq.sitework.slab.model import Tape
from packseq.sitework.slab.network import adjust

BASE = ("C1", "C2")
Corners = dict[str, Point]


def rectangle(length_mm: float, depth_mm: float) -> Corners:
    return {"C1": (0.0, 0.0), "C2": (length_mm, 0.0), "C3": (length_mm, depth_mm), "C4": (0.0, depth_mm)}


def tapes_of(true: Corners, pairs: list[tuple[str, str]], dice: Random | None = None) -> list[Tape]:
    return [
        Tape(row, pair, math.dist(true[pair[0]], true[pair[1]]) + (dice.gauss(0, 2.0) if dice else 0.0), 2.0)
        for row, pair in enumerate(pairs, start=2)
    ]


def oracle(tapes: list[Tape], corners: Corners) -> np.ndarray:
    """The corners by scipy's own least squares, C1 and the direction to C2 held; x of C2, then the others."""
    names = list(corners)

    def unpacked(unknown: np.ndarray) -> dict[str, np.ndarray]:
        at = {"C1": np.zeros(2), "C2": np.array([unknown[0], 0.0])}
        for place, name in enumerate(names[2:]):
            at[name] = unknown[1 + 2 * place : 3 + 2 * place]
        return at

    def off(unknown: np.ndarray) -> list[float]:
        at = unpacked(unknown)
        return [
            (math.dist(at[tape.corners[0]], at[tape.corners[1]]) - tape.measured_mm) / tape.sd_mm
            for tape in tapes
        ]

    start = np.concatenate([[corners["C2"][0]], *(np.array(corners[name]) for name in names[2:])])
    return np.asarray(least_squares(off, start, xtol=1e-14, ftol=1e-14, gtol=1e-14).x)


PORCH = {
    "C1": (0.0, 0.0),
    "C2": (5700.0, 0.0),
    "C3": (5700.0, 1500.0),
    "C4": (7500.0, 1500.0),
    "C5": (7500.0, 0.0),
    "C6": (15000.0, 0.0),
    "C7": (15000.0, 8400.0),
    "C8": (0.0, 8400.0),
}


@pytest.mark.parametrize("corners", [rectangle(12_000, 9_000), PORCH], ids=["rectangle", "porch"])
@pytest.mark.parametrize("seed", range(5))
def test_the_corners_are_those_of_another_solver(corners: Corners, seed: int) -> None:
    dice = Random(seed)
    true = {name: (x + dice.uniform(-15, 15), y + dice.uniform(-15, 15)) for name, (x, y) in corners.items()}
    true |= {"C1": (0.0, 0.0), "C2": (true["C2"][0], 0.0)}
    tapes = tapes_of(true, list(combinations(corners, 2)), dice)
    done = adjust(tapes, corners, BASE)
    expected = oracle(tapes, corners)
    ours = [done.corners["C2"][0], *(value for name in list(corners)[2:] for value in done.corners[name])]
    assert ours == pytest.approx(expected, abs=0.01)


def test_three_distances_to_known_corners_fix_a_fourth() -> None:
    """Controls (0, 0), (12, 0), (12, 9) m; distances 5, 8.5440037 and 10 m meet at (4, 3)."""
    corners = {"C1": (0.0, 0.0), "C2": (12_000.0, 0.0), "C3": (12_000.0, 9_000.0), "P": (4_100.0, 2_900.0)}
    tapes = [
        *tapes_of(corners, [("C1", "C2"), ("C2", "C3"), ("C1", "C3")]),
        *(
            Tape(row, (name, "P"), mm, 2.0)
            for row, name, mm in ((9, "C1", 5000.0), (10, "C2", 8544.0037), (11, "C3", 10_000.0))
        ),
    ]
    assert adjust(tapes, corners, BASE).corners["P"] == pytest.approx((4000.0, 3000.0), abs=0.001)


def test_one_distance_too_many_is_shared_out() -> None:
    """The same controls; 5.003, 8.541 and 10.002 m: (4.0023487, 2.9977000), by scipy's least squares."""
    corners = {"C1": (0.0, 0.0), "C2": (12_000.0, 0.0), "C3": (12_000.0, 9_000.0), "P": (4_000.0, 3_000.0)}
    fixed = [
        Tape(tape.row, tape.corners, tape.measured_mm, 0.0005)
        for tape in tapes_of(corners, [("C1", "C2"), ("C2", "C3"), ("C1", "C3")])
    ]
    measured = [(9, "C1", 5003.0), (10, "C2", 8541.0), (11, "C3", 10_002.0)]
    done = adjust([*fixed, *(Tape(row, (name, "P"), mm, 2.0) for row, name, mm in measured)], corners, BASE)
    assert done.corners["P"] == pytest.approx((4002.3487, 2997.7000), abs=0.001)


def test_a_leaning_rectangle_is_found_by_its_diagonals() -> None:
    """12 x 9 m leaning 5 mm over the 9 m side: diagonals 15 003.9995 and 14 995.9995 mm (law of cosines)."""
    lean = math.asin(5 / 9000)
    true = rectangle(12_000, 9_000)
    for name in ("C3", "C4"):
        x, _ = true[name]
        true[name] = (x + 9000 * math.sin(lean), 9000 * math.cos(lean))
    assert math.dist(true["C1"], true["C3"]) == pytest.approx(15_003.9995, abs=1e-3)
    assert math.dist(true["C2"], true["C4"]) == pytest.approx(14_995.9995, abs=1e-3)
    tapes = tapes_of(true, list(combinations(true, 2)))
    done = adjust(tapes, rectangle(12_000, 9_000), BASE)
    assert done.corners["C4"] == pytest.approx(true["C4"], abs=1e-4)
    assert done.unit_error == pytest.approx(0.0, abs=1e-6)


def test_a_perfect_set_of_repeats_halves_the_variance() -> None:
    corners = rectangle(6000, 4000)
    pairs = list(combinations(corners, 2))
    once = adjust(tapes_of(corners, pairs), corners, BASE)
    four_times = adjust(tapes_of(corners, pairs * 4), corners, BASE)
    for name in ("C2", "C3", "C4"):
        assert [2 * sd for sd in four_times.sd_mm[name]] == pytest.approx(once.sd_mm[name])
    # As many shares as there are tapes to spare: 24 less 5 unknowns.
    assert sum(each.spare for each in four_times.tapes) == pytest.approx(19)


def test_standard_deviations_are_those_of_many_trials() -> None:
    corners = rectangle(9000, 6000)
    pairs = list(combinations(corners, 2)) * 2
    dice = Random(4)
    trials = np.array(
        [list(adjust(tapes_of(corners, pairs, dice), corners, BASE).corners["C3"]) for _ in range(400)]
    )
    stated = adjust(tapes_of(corners, pairs), corners, BASE).sd_mm["C3"]
    # 400 trials give a standard deviation to about 3.5 per cent; four times that is allowed.
    assert trials.std(axis=0) == pytest.approx(np.array(stated), rel=0.14)


def test_the_wrong_tape_is_named_with_how_wrong_it_is() -> None:
    corners = rectangle(9000, 6000)
    tapes = tapes_of(corners, list(combinations(corners, 2)) * 2, Random(2))
    slip = tapes[7]
    tapes[7] = Tape(slip.row, slip.corners, slip.measured_mm + 30.0, slip.sd_mm)
    done = adjust(tapes, corners, BASE)
    (suspect,) = done.suspects
    assert suspect.tape.row == slip.row
    assert suspect.blunder_mm == pytest.approx(30.0, abs=3 * 2.0 / math.sqrt(suspect.spare) + 2.0)
    assert done.agrees is False


def test_one_spare_tape_cannot_tell_which_is_wrong() -> None:
    corners = rectangle(9000, 6000)
    tapes = tapes_of(corners, list(combinations(corners, 2)))
    tapes[0] = Tape(2, ("C1", "C2"), 9040.0, 2.0)
    done = adjust(tapes, corners, BASE)
    assert done.spare_tapes == 1
    # With one tape to spare every residual is the same one in another dress.
    assert sorted(each.tape.row for each in done.suspects) == [2, 3, 4, 5, 6, 7]


def test_a_sound_tape_is_seldom_suspected() -> None:
    corners = rectangle(9000, 6000)
    pairs = list(combinations(corners, 2)) * 2
    dice = Random(11)
    accused = sum(bool(adjust(tapes_of(corners, pairs, dice), corners, BASE).suspects) for _ in range(300))
    # 12 tapes at one in a thousand each: about 3.6 of 300 trials; more than 12 would be a wrong test.
    assert accused <= 12


def test_the_smallest_slip_is_found_in_four_of_five_cases() -> None:
    corners = rectangle(9000, 6000)
    pairs = list(combinations(corners, 2)) * 2
    dice = Random(3)
    least = adjust(tapes_of(corners, pairs), corners, BASE).tapes[4].seen_from_mm
    assert least is not None
    found = 0
    for _ in range(300):
        tapes = tapes_of(corners, pairs, dice)
        tapes[4] = Tape(6, tapes[4].corners, tapes[4].measured_mm + least, 2.0)
        score = adjust(tapes, corners, BASE).tapes[4].score
        found += score is not None and abs(score) > 3.2905
    # 240 of 300 expected, standard deviation 7.
    assert 212 <= found <= 268


def test_no_spare_tape_says_so() -> None:
    corners = rectangle(9000, 6000)
    done = adjust(tapes_of(corners, list(combinations(corners, 2))[:-1]), corners, BASE)
    assert (done.spare_tapes, done.unit_error, done.agrees, done.suspects) == (0, None, None, ())
    assert all(each.score is None for each in done.tapes)


def test_sides_alone_leave_the_far_corners_loose() -> None:
    corners = rectangle(9000, 6000)
    tapes = tapes_of(corners, [("C1", "C2"), ("C2", "C3"), ("C3", "C4"), ("C1", "C4")])
    assert loose_corners(tapes, corners, BASE) == ("C3", "C4")
    # One diagonal does it, and the shorter of two equal ones in order of names is asked for.
    assert missing_tapes(tapes, corners, BASE) == (("C1", "C3"),)


def test_a_corner_on_a_straight_side_needs_a_tape_across() -> None:
    corners = {**rectangle(9000, 6000), "C5": (4500.0, 0.0)}
    pairs = [pair for pair in combinations(corners, 2) if "C5" not in pair]
    tapes = tapes_of(corners, [*pairs, ("C1", "C5"), ("C2", "C5")])
    assert loose_corners(tapes, corners, BASE) == ("C5",)
    assert missing_tapes(tapes, corners, BASE) == (("C3", "C5"),)


def test_what_is_asked_for_fixes_the_corners_and_nothing_less_does() -> None:
    tapes = tapes_of(PORCH, [("C1", "C2"), ("C6", "C7"), ("C7", "C8")])
    more = missing_tapes(tapes, PORCH, BASE)
    # 8 corners have 16 coordinates less 3 held: 13; three independent tapes are there.
    assert len(more) == 10
    assert loose_corners([*tapes, *tapes_of(PORCH, list(more))], PORCH, BASE) == ()


def test_a_slab_that_lies_askew_comes_out_alike() -> None:
    corners = rectangle(9000, 6000)
    angle = math.radians(33.0)
    turned = {
        name: (
            4000 + x * math.cos(angle) - y * math.sin(angle),
            x * math.sin(angle) + y * math.cos(angle) - 700,
        )
        for name, (x, y) in corners.items()
    }
    tapes = tapes_of(corners, list(combinations(corners, 2)) * 2, Random(8))
    straight, askew = adjust(tapes, corners, BASE), adjust(tapes, turned, BASE)
    assert [each.off_mm for each in askew.tapes] == pytest.approx([each.off_mm for each in straight.tapes])
    # The base is held where it is drawn, and as it lies.
    assert askew.corners["C1"] == pytest.approx(turned["C1"])
    x, y = straight.corners["C3"]
    assert askew.corners["C3"] == pytest.approx(
        (4000 + x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle) - 700)
    )
