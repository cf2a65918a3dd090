"""Wind on an upright frame against published pressures, coefficients and a worked case."""

from __future__ import annotations

import math

import pytest

from packseq.sitework.lifts.beaufort import LOWER_LIMITS_M_PER_S, beaufort
from packseq.sitework.lifts.wind import (
    GRAVITY_M_S2,
    force_n,
    holding_speed_m_per_s,
    mean_zone_coefficient,
    porosity_factor,
    pressure_pa,
    wall_coefficient,
    zone_coefficients,
)


@pytest.mark.parametrize(
    ("speed", "pressure"), [(10.8, 70.0), (13.9, 115.9), (20, 240.0), (37, 821.4), (44, 1161.6)]
)
def test_dynamic_pressure(speed: float, pressure: float) -> None:
    # AS/NZS 1170.2 equation 2.4(1) with air at 1.2 kg/m3, as quoted by two public programs: 0.6 V^2.
    assert pressure_pa(speed) == pytest.approx(pressure, abs=0.05)


def test_dynamic_pressure_with_the_air_of_other_codes() -> None:
    assert pressure_pa(26, 1.25) == pytest.approx(422.5)  # EN 1991-1-4, 4.5: 0.625 x 26^2
    # ASCE 7-22 equation 26.10-1 with every K at 1 has 0.613 in place of 0.6.
    assert pressure_pa(20, 2 * 0.613) == pytest.approx(245.2)
    assert pressure_pa(50, 2 * 0.613) == pytest.approx(1532.5)
    # The worked case of a public program for the same equation: Kz = Kd = 0.85 at 50 m/s.
    assert 0.85 * 0.85 * pressure_pa(50, 2 * 0.613) == pytest.approx(1107.2, abs=0.05)


@pytest.mark.parametrize(
    ("length", "coefficient"), [(2.4, 1.2700), (4.8, 1.2399), (12, 1.2001), (12.001, 1.2), (24, 1.2)]
)
def test_the_coefficient_of_a_wall_on_the_ground(length: float, coefficient: float) -> None:
    # AS/NZS 1170.2: b/c = 1 gives 1.3 + 0.5 x 0.3 x -0.2 = 1.27; 4.8: 1.3 - 0.1 x (0.3 + 0.30103) = 1.2399.
    # The branches meet within 0.0001 at b/c = 5.
    assert wall_coefficient(length, 2.4) == pytest.approx(coefficient, abs=0.00005)


def test_the_coefficient_of_a_wall_off_the_ground() -> None:
    # c/h = 0.1: 1.4 + 0.3 log10(2) = 1.4903; c/h = 0.5 and b/c = 10: 1.7 - 0.25 = 1.45.
    assert wall_coefficient(2, 1, 10) == pytest.approx(1.4903, abs=0.0001)
    assert wall_coefficient(10, 1, 2) == pytest.approx(1.45)


@pytest.mark.parametrize(
    ("slimness", "expected"),
    [
        (1, (2.3, 1.4, 1.2, 1.2)),
        (3, (2.3, 1.4, 1.2, 1.2)),
        (5, (2.9, 1.8, 1.4, 1.2)),
        (10, (3.4, 2.1, 1.7, 1.2)),
        (30, (3.4, 2.1, 1.7, 1.2)),
        (4, (2.6, 1.6, 1.3, 1.2)),  # half-way between two rows
    ],
)
def test_the_zones_of_a_free_standing_wall(slimness: float, expected: tuple[float, ...]) -> None:
    # EN 1991-1-4, table 7.9, as transcribed in a public program.
    assert zone_coefficients(slimness) == pytest.approx(expected)


def test_the_worked_case_of_a_wall_of_ten_by_two_metres() -> None:
    # A public program's check against an on-line Eurocode sheet: net pressures 1530, 949, 738 and 633 Pa,
    # all of them for a peak pressure of 527.5 Pa.
    pressures = [527.5 * coefficient for coefficient in zone_coefficients(10 / 2)]
    assert pressures == pytest.approx([1530, 949, 738, 633], abs=0.8)


def test_the_mean_of_the_zones() -> None:
    # l = 4.8, h = 2.4: 0.72 m at 2.3 and 4.08 m at 1.4: (1.656 + 5.712) / 4.8 = 1.535.
    assert mean_zone_coefficient(4.8, 2.4) == pytest.approx(1.535)
    # Shorter than zone A: 2.3 all over.
    assert mean_zone_coefficient(0.5, 2.4) == pytest.approx(2.3)


@pytest.mark.parametrize(("solidity", "factor"), [(0.3, 0.51), (0.5, 0.75), (0.7, 0.91), (1, 1)])
def test_porosity(solidity: float, factor: float) -> None:
    # AS/NZS 1170.2, from memory: K_p = 1 - (1 - d)^2, so 1 - 0.49, 1 - 0.25, 1 - 0.09.
    assert porosity_factor(solidity) == pytest.approx(factor)


def test_the_force_is_at_least_that_of_either_code() -> None:
    # At 20 m/s, with the coefficients of AS/NZS 1170.2 alone: 1755.6, 3428.1, 4251.6 and 8295 N.
    for length, alone in ((2400, 1755.6), (4800, 3428.1), (6000, 4251.6), (12000, 8295)):
        standard = pressure_pa(20) * wall_coefficient(length, 2400) * length * 2400 / 1e6
        assert standard == pytest.approx(alone, abs=0.7)
        assert force_n(20, length, 2400) >= standard
    # 4.8 x 2.4 m by hand: 240 Pa x 1.535 x 11.52 m2 = 4244 N, the larger of the two.
    assert force_n(20, 4800, 2400) == pytest.approx(4244, abs=0.5)


def test_the_speed_that_a_team_can_just_hold() -> None:
    # 4.8 x 2.4 m, four people at 7 kg of force with their hands at half height: 4 x 7 x 9.80665 = 274.6 N
    # = 0.6 V^2 x 1.535 x 11.52, so V^2 = 274.6 / 10.610 = 25.88 and V = 5.09 m/s.
    speed = holding_speed_m_per_s(4800, 2400, 4)
    assert speed == pytest.approx(5.09, abs=0.005)
    assert force_n(speed, 4800, 2400) == pytest.approx(4 * 7 * GRAVITY_M_S2)


def test_a_high_frame_is_harder_to_hold_than_its_area_tells() -> None:
    # Hands stay at 1.2 m: at 3.6 m high the wind has an arm of 1.8 m, so the push counts two thirds.
    speed = holding_speed_m_per_s(4800, 3600, 4)
    assert force_n(speed, 4800, 3600) == pytest.approx(4 * 7 * GRAVITY_M_S2 * 1200 / 1800)


def test_a_bare_frame_can_be_held_in_more_wind_than_a_wrapped_one() -> None:
    bare, wrapped = (holding_speed_m_per_s(4800, 2400, 4, solidity=each) for each in (0.3, 1))
    # sqrt(1 / 0.51) = 1.400 times the speed.
    assert bare / wrapped == pytest.approx(1 / math.sqrt(0.51))


@pytest.mark.parametrize(
    ("speed", "force"),
    [(0, 0), (0.2, 0), (0.3, 1), (3.3, 2), (3.4, 3), (10.7, 5), (10.8, 6), (13.9, 7), (60, 12)],
)
def test_beaufort(speed: float, force: int) -> None:
    assert beaufort(speed).number == force


def test_beaufort_limits_are_the_published_ones() -> None:
    # Two published tables (one after the Central Weather Bureau, one in a weather station's manual): m/s, and
    # the km/h that the bands begin at, which are whole numbers near 3.6 times as much.
    assert LOWER_LIMITS_M_PER_S[1:] == (0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7)
    in_km_per_h = (1, 6, 12, 20, 29, 39, 50, 62, 75, 89, 103, 118)
    for limit, whole in zip(LOWER_LIMITS_M_PER_S[1:], in_km_per_h, strict=True):
        assert limit * 3.6 == pytest.approx(whole, abs=0.9)


@pytest.mark.parametrize("slimness", [5.001, 6, 8, 20])
def test_oblique_wind_on_a_long_wall_is_no_more_than_what_is_used(slimness: float) -> None:
    # AS/NZS 1170.2, 45 degrees, b/c > 5, on the ground: 2.4 to 2 h, 1.2 to 4 h, 0.6 beyond (two public
    # programs). Its mean along the wall: (4.8 + 2.4 + 0.6 (b/h - 4)) / (b/h).
    oblique = (4.8 + 2.4 + 0.6 * (slimness - 4)) / slimness
    assert mean_zone_coefficient(slimness, 1) >= oblique


def test_beaufort_limits_follow_their_formula() -> None:
    # World Meteorological Organization, from memory: v = 0.836 B^1.5. At B + 0.5, floored to 0.1, it gives
    # the upper limit of each force of the published table, 0.1 below the next lower limit.
    for number in range(1, 12):
        formula = math.floor(0.836 * (number + 0.5) ** 1.5 * 10 + 1e-9) / 10
        assert formula + 0.1 == pytest.approx(LOWER_LIMITS_M_PER_S[number + 1])
