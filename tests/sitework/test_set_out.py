"""The lines of a set-out: by hand, against shapely, against every set of lines, on every demo."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations
from random import Random

import pytest
from shapely import LineString, Point, Polygon
from sitework_houses import butted_box, demo, drawn, lines_of, slab_of

from packseq.house.model import House
from packseq.scenario.model import StandChoices
from packseq.sitework.setout import Choices, GridLine, set_out
from packseq.sitework.setout.marks import band, marks_for
from packseq.sitework.walls import Wall, walls_of


def told(line: GridLine) -> tuple[str, str, float | None]:
    return line.role, line.lie, None if line.running_mm is None else round(line.running_mm, 1)


def test_the_garden_room_by_hand() -> None:
    done = lines_of(demo("garden-room"))
    # Walls are 90 thick and flush with the slab: inner faces at x 90 and 5910, y 90 and 4090; lines 100
    # further in: x 190 and 5810, y 190 and 3990. N1 stands at x 4020..4110, N2 at y 2045..2135; both lines
    # past them.
    assert [told(line) for line in done.lines] == [
        ("reference", "along", 0.0),
        ("square", "across", 0.0),
        ("square", "across", 5620.0),
        ("closing", "along", 3800.0),
        ("internal", "across", 4020.0),
        ("internal", "along", 2045.0),
    ]
    assert done.zero == pytest.approx((190.0, 190.0))
    assert [line.marked_on for line in done.lines] == [(), (1,), (1,), (2, 3), (1, 4), (2, 3)]
    (main,) = done.rectangles
    # 5620^2 + 3800^2 = 31 584 400 + 14 440 000 = 46 024 400; its root is 6784.13.
    assert main.diagonal_mm == pytest.approx(6784.13, abs=0.005)
    assert main.diagonals == (("1/2", "4/3"), ("1/3", "4/2"))


def test_running_dimensions_begin_at_the_end_that_the_crew_begins_at() -> None:
    house = demo("garden-room")
    scenario = replace(house.scenario, stand=replace(house.scenario.stand, direction="clockwise"))
    done = lines_of(replace(house, scenario=scenario))
    assert done.zero == pytest.approx((5810.0, 190.0))
    assert done.forward == pytest.approx((-1.0, 0.0))
    # N1 stands at x 4020..4110; its line is past it again, at x 3920: 5810 - 3920 = 1890 from the new zero.
    assert told(done.lines[4]) == ("internal", "across", 1890.0)


# 0.09 m in from the faces of a 10 x 8 m rectangle and of an L: 40 mm frames with their lines 50 mm off.
L_SLAB = ((0.0, 0.0), (10000.0, 0.0), (10000.0, 5000.0), (6000.0, 5000.0), (6000.0, 8000.0), (0.0, 8000.0))
L_LINES = {
    "S": (0.0, 20.0, 10000.0, 20.0),
    "E": (9980.0, 40.0, 9980.0, 4960.0),
    "N1": (10000.0, 4980.0, 5960.0, 4980.0),
    "E2": (5980.0, 5000.0, 5980.0, 7960.0),
    "N2": (6000.0, 7980.0, 0.0, 7980.0),
    "W": (20.0, 7960.0, 20.0, 40.0),
}


@pytest.mark.parametrize(
    ("house", "area_m2", "perimeter_m"),
    [
        (drawn(butted_box(10_000, 8_000, 40.0), slab_of(10_000, 8_000), thickness_mm=40.0), 76.7924, 35.28),
        (drawn(L_LINES, L_SLAB, thickness_mm=40.0), 64.7924, 35.28),
    ],
    ids=["rectangle", "L"],
)
def test_external_lines_are_the_outline_offset_inward(
    house: House, area_m2: float, perimeter_m: float
) -> None:
    """The mitred offset by shapely; area and perimeter by hand, area A - dP + d2(convex - reflex)."""
    done = lines_of(house, choices=Choices(offset_mm=50.0))
    by_wall = {served.wall.name: line for line in done.lines for served in line.serves}
    runs = [run for run in house.runs if run.location == "external"]
    corners = [
        by_wall[first.name].crossing(by_wall[second.name])
        for first, second in zip(runs, [*runs[1:], runs[0]], strict=True)
    ]
    ring = Polygon([corner for corner in corners if corner is not None])
    oracle = Polygon(house.scenario.slab).buffer(-90.0, join_style="mitre")
    assert ring.symmetric_difference(oracle).area == pytest.approx(0.0, abs=1.0)
    assert ring.area / 1e6 == pytest.approx(area_m2, abs=1e-9)
    assert ring.length / 1e3 == pytest.approx(perimeter_m, abs=1e-9)


def test_the_inner_corner_of_the_l_is_where_it_is_worked_out_to_be() -> None:
    done = lines_of(drawn(L_LINES, L_SLAB, thickness_mm=40.0), choices=Choices(offset_mm=50.0))
    north, east = done.serving("north wall 1"), done.serving("east wall 2")
    assert north is not None
    assert east is not None
    # By hand: (6000 - 90, 5000 - 90).
    assert north[0].crossing(east[0]) == pytest.approx((5910.0, 4910.0))


@pytest.mark.parametrize("name", ["garden-room", "three-bedroom", "l-shaped", "two-level"])
def test_every_wall_has_a_line_that_lies_clear_of_it(name: str) -> None:
    house = demo(name)
    for level in house.levels:
        done = set_out(house, level, Choices())
        for wall in walls_of(house, level.level):
            served = done.serving(wall.name)
            assert served is not None
            line, off_mm = served
            strip = LineString([wall.start, wall.end]).buffer(wall.thickness_mm / 2, cap_style="flat")
            ends = [wall.start, wall.end]
            ux, uy = line.along_unit
            far = 100_000.0
            carried_on = LineString(
                [
                    (line.start[0] - far * ux, line.start[1] - far * uy),
                    (line.end[0] + far * ux, line.end[1] + far * uy),
                ]
            )
            assert strip.distance(carried_on) == pytest.approx(off_mm, abs=1e-6), (wall, ends)
            expected = 100.0 if wall.location == "external" else off_mm
            assert off_mm == pytest.approx(expected)
            assert 0 < off_mm <= 1500.0


def wall(name: str, middle_mm: float) -> Wall:
    return Wall(name, 1, "internal", (name,), (0.0, middle_mm), (3000.0, middle_mm), 90.0)


@pytest.mark.parametrize("seed", range(40))
def test_no_fewer_lines_will_do(seed: int) -> None:
    """Against trying every set of lines beside a face of one of the walls."""
    dice = Random(seed)
    middles = sorted({dice.randrange(0, 12_000, 190) for _ in range(dice.randint(1, 7))})
    walls = [wall(f"I{number}", middle) for number, middle in enumerate(middles)]
    choices = Choices(100.0, dice.choice([100.0, 700.0, 1500.0]))
    bands = [band(each, (0.0, 0.0), (0.0, 1.0)) for each in walls]
    marks = marks_for(bands, choices)
    sides = sorted({at for each in bands for at in (each.low_mm - 100.0, each.high_mm + 100.0)})
    clear = [at for at in sides if all(each.off_mm(at) >= 20.0 for each in bands)]

    def serves_all(places: tuple[float, ...]) -> bool:
        return all(any(0 < each.off_mm(at) <= choices.reach_mm for at in places) for each in bands)

    fewest = next(
        count
        for count in range(1, len(clear) + 1)
        if any(serves_all(places) for places in combinations(clear, count))
    )
    assert len(marks) == fewest
    assert sorted(each.name for mark in marks for each in mark.walls) == sorted(each.name for each in walls)


def test_a_skew_wall_has_a_line_marked_on_two_others() -> None:
    # The north-east corner of a 6 x 4 m box cut at 45 degrees, 1.5 m back along both walls.
    slab = ((0.0, 0.0), (6000.0, 0.0), (6000.0, 2500.0), (4500.0, 4000.0), (0.0, 4000.0))
    root = 45 / math.sqrt(2)
    lines = {
        "S": (0.0, 45.0, 6000.0, 45.0),
        "E": (5955.0, 90.0, 5955.0, 2450.0),
        "NE": (5970.0 - root, 2530.0 - root, 4530.0 - root, 3970.0 - root),
        "N": (4440.0, 3955.0, 0.0, 3955.0),
        "W": (45.0, 3910.0, 45.0, 90.0),
    }
    done = lines_of(drawn(lines, slab))
    skew = next(line for line in done.lines if line.lie == "skew")
    assert skew.running_mm is None
    assert len(skew.marked_on) == 2
    # Its face lies on x + y = 8500; the line is 90 + 100 square in: x + y = 8500 - 190 root 2.
    assert sum(skew.start) == pytest.approx(8500 - 190 * math.sqrt(2))
    served = done.serving("north-east wall")
    assert served is not None
    assert served[0] is skew
    assert served[1] == pytest.approx(100.0)


def test_a_site_wall_has_one_line() -> None:
    house = drawn({"A": (0.0, 0.0, 3000.0, 0.0), "B": (3000.0, 0.0, 6000.0, 0.0)}, slab_of(6000, 4000))
    done = lines_of(house)
    assert [line.role for line in done.lines] == ["reference"]
    assert done.main is None
    assert done.triangles == ()


def test_a_line_waits_for_the_lines_that_it_is_marked_on() -> None:
    # A 6 x 3 m room with a 3 x 3 m wing on the right half of its north side, which has a 3 x 3 m wing to its
    # right in its turn: the far east wall crosses neither the reference line nor the closing one on the slab.
    slab = (
        (0.0, 0.0),
        (9000.0, 0.0),
        (9000.0, 6000.0),
        (12_000.0, 6000.0),
        (12_000.0, 9000.0),
        (6000.0, 9000.0),
        (6000.0, 3000.0),
        (0.0, 3000.0),
    )
    lines = {
        "S": (0.0, 45.0, 9000.0, 45.0),
        "E1": (8955.0, 90.0, 8955.0, 6045.0),
        "S2": (9000.0, 6045.0, 12_000.0, 6045.0),
        "E2": (11_955.0, 6090.0, 11_955.0, 8910.0),
        "N": (12_000.0, 8955.0, 6000.0, 8955.0),
        "W2": (6045.0, 8910.0, 6045.0, 2955.0),
        "N2": (6000.0, 2955.0, 0.0, 2955.0),
        "W": (45.0, 2910.0, 45.0, 90.0),
    }
    done = lines_of(drawn(lines, slab))
    assert all(len(line.marked_on) == 2 for line in done.lines[4:])
    assert all(number < line.number for line in done.lines for number in line.marked_on)
    floor = Polygon(slab).buffer(1)
    for line in done.lines[4:]:
        for number in line.marked_on:
            at = line.crossing(done.line(number))
            assert at is not None
            assert floor.covers(Point(at))


@pytest.mark.parametrize("reach_mm", [0.0, 1500.0])
def test_a_house_that_lies_askew_is_set_out_alike(reach_mm: float) -> None:
    house = demo("garden-room")
    lines = {
        f"{'I' if frame.name.startswith('N') else ''}{frame.name}": (*frame.start, *frame.end)
        for frame in house.scenario.frames.values()
    }
    cosine, sine = math.cos(math.radians(17.0)), math.sin(math.radians(17.0))

    def turned(x: float, y: float) -> tuple[float, float]:
        return (3000 + x * cosine - y * sine, x * sine + y * cosine - 900)

    askew = drawn(
        {name: (*turned(x1, y1), *turned(x2, y2)) for name, (x1, y1, x2, y2) in lines.items()},
        tuple(turned(x, y) for x, y in house.scenario.slab),
        stand=StandChoices(reference=("E1", "E2")),
    )
    choices = Choices(100.0, reach_mm)
    straight, done = lines_of(house, choices=choices), lines_of(askew, choices=choices)
    assert [told(line) for line in done.lines] == [told(line) for line in straight.lines]
    assert [each.diagonal_mm for each in done.rectangles] == pytest.approx(
        [each.diagonal_mm for each in straight.rectangles]
    )
    assert done.zero == pytest.approx(turned(*straight.zero))


def test_an_upper_level_is_set_out_on_its_own_floor() -> None:
    done = lines_of(demo("two-level"), level=1)
    assert done.level == 2
    assert done.main is not None
    # The upper floor spans x 1800..10800 and y 0..7200: 9000 - 380 by 7200 - 380.
    assert (done.main.along_mm, done.main.across_mm) == pytest.approx((8620.0, 6820.0))


def test_lines_further_off_and_a_shorter_reach_are_taken_at_their_word() -> None:
    house = demo("garden-room")
    done = lines_of(house, choices=Choices(offset_mm=250.0, reach_mm=0.0))
    assert all(served.off_mm == pytest.approx(250.0) for line in done.lines for served in line.serves)


def test_reference_frames_told_turn_the_house_about() -> None:
    house = demo("garden-room")
    lines = {
        frame.name: (*frame.start, *frame.end)
        for frame in house.scenario.frames.values()
        if frame.name.startswith("E")
    }
    done = lines_of(drawn(lines, house.scenario.slab, stand=StandChoices(reference=("E4", "E5"))))
    assert done.lines[0].serves[0].wall.name == "north wall"
    assert done.inward == pytest.approx((0.0, -1.0))
