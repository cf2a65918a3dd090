"""The plan file: written the same way every time, read with care."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_house import hut, pile, plan_of, two_floors

from packseq.check import replay
from packseq.errors import InputError
from packseq.plan.file import LARGEST_BYTES, plan_json, read_plan
from packseq.plan.model import Plan, StageResult

HOUSE = hut(spots=(pile(),))
PLAN = plan_of(HOUSE, "W1>P S1 E1 N1 W1").model_copy(
    update={
        "stages": (StageResult(name="extra lifts", value=1, bound=1, status="optimal"),),
        "held_open": ("W1",),
    }
)

WRITTEN = """\
{"format": 1,
 "scenario": "small house",
 "scenario_sha256": "ab12",
 "status": "best found",
 "direction": "anticlockwise",
 "reference": ["S1"],
 "held_open": ["W1"],
 "places": {"A": [6000, -4000, 0]},
 "stages": [
  {"name": "extra lifts", "value": 1, "bound": 1, "status": "optimal"}],
 "spots": [
  {"name": "P", "at_mm": [0, -4000], "bearing_deg": 0, "size_mm": [8000, 2400], "kind": "pile", "holds": 9}],
 "moves": [
  {"n": 1, "do": "set aside", "frame": "W1", "from": {"pack": "A", "layer": 1}, "to": {"spot": "P"}, \
"people": 3, "empty_mm": 0, "loaded_mm": 6000, \
"route_mm": [[6000, -4000], [0, -4000]], "why": "above S1"},
  {"n": 2, "do": "stand", "stand": 1, "frame": "S1", "from": {"pack": "A", "layer": 2}, \
"people": 3, "empty_mm": 6000, "loaded_mm": 5000, \
"route_mm": [[6000, -4000], [3000, 0]], "touches": []},
  {"n": 3, "do": "stand", "stand": 2, "frame": "E1", "from": {"pack": "A", "layer": 3}, \
"people": 3, "empty_mm": 5000, "loaded_mm": 8000, \
"route_mm": [[6000, -4000], [6000, 4000]], "touches": ["S1"]},
  {"n": 4, "do": "stand", "stand": 3, "frame": "N1", "from": {"pack": "A", "layer": 4}, \
"people": 3, "empty_mm": 8000, "loaded_mm": 12369, \
"route_mm": [[6000, -4000], [3000, 8000]], "touches": ["E1"]},
  {"n": 5, "do": "stand", "stand": 4, "frame": "W1", "from": {"spot": "P"}, \
"people": 3, "empty_mm": 12369, "loaded_mm": 8000, \
"route_mm": [[0, -4000], [0, 4000]], "touches": ["N1", "S1"]}]}
"""


def faults(path: Path) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_plan(path)
    return [str(fault) for fault in caught.value.faults]


def spoilt(tmp_path: Path, data: object) -> list[str]:
    path = tmp_path / "plan.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    return faults(path)


def raw(tmp_path: Path, content: bytes) -> list[str]:
    path = tmp_path / "plan.json"
    path.write_bytes(content)
    return faults(path)


def as_data() -> Any:  # noqa: ANN401 - JSON to be spoilt at will
    return json.loads(WRITTEN)


def test_the_text_is_fixed_to_the_letter() -> None:
    assert plan_json(PLAN) == WRITTEN


def test_what_is_written_reads_back_the_same(tmp_path: Path) -> None:
    path = tmp_path / "plan.json"
    for plan in (
        PLAN,
        plan_of(two_floors(spots=(pile("Q", (1.5, 0), level=2),)), "S1 W1 N1 E1 UW1>Q US1 UW1 UN1 UE1"),
        PLAN.model_copy(update={"direction": None, "moves": (), "stages": (), "spots": ()}),
    ):
        path.write_text(plan_json(plan), encoding="utf-8")
        assert read_plan(path) == plan
        assert plan_json(read_plan(path)) == plan_json(plan)


def test_a_byte_order_mark_is_accepted(tmp_path: Path) -> None:
    path = tmp_path / "plan.json"
    path.write_bytes(b"\xef\xbb\xbf" + WRITTEN.encode())
    assert read_plan(path) == PLAN


def test_a_level_is_written_only_when_it_is_not_the_first() -> None:
    house = two_floors(spots=(pile("Q", level=2),))
    assert '"holds": 9, "level": 2}' in plan_json(plan_of(house, "S1"))


@pytest.mark.parametrize(
    ("content", "text"),
    [
        (b"", "is not sound JSON: Expecting value (line 1, column 1)"),
        (b"{", "is not sound JSON"),
        (b"[]", "is not a plan: it must be one JSON object"),
        (b'{"scenario": "\xff"}', "is not UTF-8 text (byte 15)"),
        (b"[" * 100_000, "is nested too deeply to be a plan"),
        (b'{"a":' * 100_000, "is nested too deeply to be a plan"),
        (b'{"n": NaN}', "has NaN where a number should be"),
        (b'{"n": -Infinity}', "has -Infinity where a number should be"),
        (b'{"n": 1, "n": 1}', "gives the field 'n' twice in one place"),
        (b'{"moves": [{"n": 1, "n": 2}]}', "gives the field 'n' twice in one place"),
        (b'{"n": ' + b"9" * 5000 + b"}", "has a number that is far too long"),
        (b'{"moves": [' + b"0," * 20_000 + b"0]}", "has more than 20000 items in 'moves'"),
        (b"{" + b",".join(b'"%d":0' % key for key in range(1001)) + b"}", "has more than 1000 fields"),
    ],
    ids=lambda value: str(value)[:20],
)
def test_a_file_that_is_no_plan_at_all(tmp_path: Path, content: bytes, text: str) -> None:
    (fault,) = raw(tmp_path, content)
    assert fault.startswith("plan.json: ")
    assert text in fault


def test_a_file_that_is_too_large_or_not_there(tmp_path: Path) -> None:
    assert raw(tmp_path, b" " * (LARGEST_BYTES + 1)) == ["plan.json: is larger than 20 MB, so it is no plan"]
    assert faults(tmp_path / "none.json")[0].startswith("none.json: cannot be read")
    assert faults(tmp_path)[0].endswith(")")


def test_every_fault_is_told_with_its_place(tmp_path: Path) -> None:
    data = as_data()
    del data["scenario"]
    data["colour"] = "red"
    data["format"] = 2
    data["status"] = "great"
    data["places"]["A"] = [0, 0]
    data["moves"][1]["people"] = "3"
    data["moves"][2]["do"] = "drop"
    data["moves"][3]["from"]["shelf"] = 1
    data["moves"][4]["loaded_mm"] = -1
    data["spots"][0]["size_mm"] = [1e300, 2400]
    data["stages"][0]["value"] = 1.5
    assert sorted(spoilt(tmp_path, data)) == [
        "plan.json, colour: is not a field of a plan file",
        "plan.json, format: must be at most 1",
        "plan.json, moves.2.people: must be a whole number",
        "plan.json, moves.3.do: must be 'stand' or 'set aside'",
        "plan.json, moves.4.from.shelf: is not a field of a plan file",
        "plan.json, moves.5.loaded_mm: must be at least 0",
        "plan.json, places.A.3: is missing",
        "plan.json, scenario: is missing",
        "plan.json, spots.1.size_mm.1: must be at most 100000000",
        "plan.json, stages.1.value: must be a whole number",
        "plan.json, status: must be 'optimal', 'best found' or 'none'",
    ]


@pytest.mark.parametrize(
    ("field", "value", "text"),
    [
        ("n", True, "must be a whole number"),
        ("n", 1.0, "must be a whole number"),
        ("n", None, "must be a whole number"),
        ("n", 10**300, "must be at most 1000000000000000"),
        ("frame", 7, "must be text"),
        ("frame", "", "must not be empty"),
        ("frame", "W" * 21, "must be no longer than 20 characters"),
        ("frame", "W\x1b[2J", "has characters that cannot be printed"),
        ("frame", "W\ud800", "has characters that are not sound text"),
        ("from", [], "must be an object with named fields"),
        ("from", None, "must be an object with named fields"),
        ("to", {"spot": 5}, "must be text"),
        ("route_mm", [[1, 2, 3]], "must have no more than 2 items"),
        ("route_mm", [["1", 2]], "must be a number"),
        ("route_mm", {"x": 1}, "must be a list"),
        ("touches", "S1", "must be a list"),
    ],
)
def test_a_move_with_a_value_of_the_wrong_kind(tmp_path: Path, field: str, value: object, text: str) -> None:
    data = as_data()
    data["moves"][0][field] = value
    (fault,) = spoilt(tmp_path, data)
    assert fault.startswith("plan.json, moves.1")
    assert fault.endswith(text)


def test_lists_that_are_missing_or_no_lists(tmp_path: Path) -> None:
    data = as_data()
    del data["moves"]
    data["spots"] = {}
    data["stages"] = None
    assert spoilt(tmp_path, data) == [
        "plan.json, moves: is missing",
        "plan.json, spots: must be a list",
        "plan.json, stages: must be a list",
    ]


def test_a_hostile_field_name_is_shown_harmless_and_short(tmp_path: Path) -> None:
    (fault,) = spoilt(tmp_path, as_data() | {"\x1b[2J" + "x" * 5000: 1})
    assert "\x1b" not in fault
    assert len(fault) < 150


def test_a_file_of_nothing_but_faults_is_told_only_so_far(tmp_path: Path) -> None:
    data = as_data()
    data["moves"] = [{}] * 20_000
    # Each empty move lacks n, do, frame, from, people, empty_mm and loaded_mm: 15 x 7 = 105.
    assert len(spoilt(tmp_path, data)) == 105


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=4),
    max_leaves=8,
)


def _read(folder: Path, content: bytes) -> Plan | None:
    path = folder / "plan.json"
    path.write_bytes(content)
    try:
        return read_plan(path)
    except InputError:
        return None


@settings(max_examples=200, deadline=None)
@given(
    content=st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode(errors="replace"))
)
def test_any_bytes_are_refused_as_input(tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    assert _read(tmp_path_factory.mktemp("bytes"), content) is None


@settings(max_examples=300, deadline=None)
@given(draw=st.data())
def test_a_plan_spoilt_anywhere_is_refused_or_replayed(
    tmp_path_factory: pytest.TempPathFactory, draw: st.DataObject
) -> None:
    data = as_data()
    place: Any = data
    while True:
        keys = sorted(place) if isinstance(place, dict) else list(range(len(place)))
        key = draw.draw(st.sampled_from(keys))
        if not isinstance(place[key], dict | list) or not place[key] or draw.draw(st.integers(0, 3)) == 0:
            break
        place = place[key]
    place[key] = draw.draw(JSON)
    plan = _read(tmp_path_factory.mktemp("spoilt"), json.dumps(data).encode())
    if plan is not None:
        done = replay(HOUSE, plan)
        assert all(len(str(each)) < 1200 for each in done.violations)
