from __future__ import annotations

from dataclasses import replace

from garden import flowing, scenario_house, shown

from packseq.report.checkdata import understood_document
from packseq.report.understood import crew_warnings, understood_house
from packseq.scenario.model import Crew, Frame, Place, StandChoices


def test_the_headline_counts_what_was_delivered() -> None:
    text = shown(understood_house(scenario_house("garden-room")))
    assert text.startswith("garden-room: 8 frames on 1 level, 6 external and 2 internal, in 1 pack.")
    # N1 and N2 were weighed at 82 and 30 kg; the other six are estimated.
    assert "6 masses are estimates, marked * below." in text
    assert "4 people on site, each taking at most 25 kg of a frame." in text


def test_walls_frames_packs_and_spots_are_all_there() -> None:
    text = shown(understood_house(scenario_house("garden-room")))
    assert "Reference wall: south wall, 6.00 m, the longest straight external run: E1, E2." in text
    assert "Perimeter, anticlockwise: E1, E2, E3, E4, E5, E6." in text
    assert "north wall 6.00 E4, E5" in text
    assert (
        "E1 south wall external 3000 2400 90 * 63.6 3 door 2000 wide at 600, head 2040 corner E6; inline E2"
        in text
    )
    assert "N2 internal wall 2 (east-west) internal 1800 2400 90 30.0 2 tee E3, N1" in text
    assert "A 1 N2\nA 2 E5\nA 3 E4" in text
    assert "S2 lean: any frame can be taken 3 3.4 x 1.0 m centre x 2000, y 2000 mm" in text


def test_gaps_and_ground_nobody_walks_on_are_told() -> None:
    text = shown(understood_house(scenario_house("l-shaped")))
    assert "Gap: E1 and E18 are neighbours in the perimeter" in text
    assert "No-go: 2 areas that nobody walks across." in text


def test_levels_are_told_apart() -> None:
    text = shown(understood_house(scenario_house("two-level")))
    assert "Level 1: Reference wall: level 1 south wall, 10.80 m" in text
    assert "Level 2: Reference wall: level 2 south wall, 9.00 m" in text
    assert "Pack C, level 2:" in text
    assert "S3 (level 2)" in text


def test_choices_other_than_the_usual_are_told() -> None:
    house = scenario_house("garden-room")
    stand = StandChoices(("E4", "E5"), "free", "clockwise", 2, internals_any_time=True, lift_worth_m=40)
    pack = replace(house.scenario.packs["A"], holds=3, places=(Place((0, 0), 0), Place((1, 2), 90)))
    scenario = replace(house.scenario, stand=stand, spots={}, packs={"A": pack})
    text = flowing(understood_house(replace(house, scenario=scenario)))
    assert "as told" in text
    assert "Lap: free: any order that keeps the other rules; clockwise." in text
    assert "Internal frames: at any time." in text
    assert "One extra lift counts as 40 m of walking." in text
    assert "None given: the plan proposes its own." in text
    assert "on top of pack A while it has at most 3 layers" in text
    assert (
        "centre x 0, y 0 mm, long side east-west or centre x 1, y 2 mm, long side turned 90 degrees" in text
    )


def test_a_frame_too_heavy_for_the_crew_is_warned_of() -> None:
    house = scenario_house("garden-room")
    scenario = replace(house.scenario, crew=Crew(people=3))
    # Over 3 x 25 = 75 kg: E3 (80.8, estimated), E6 (85.6, estimated) and N1 (82, weighed).
    assert crew_warnings(scenario) == (
        "crew-lift: E3 (about 80.8 kg) needs 4 people at 25 kg each; the crew has 3",
        "crew-lift: E6 (about 85.6 kg) needs 4 people at 25 kg each; the crew has 3",
        "crew-lift: N1 (82.0 kg) needs 4 people at 25 kg each; the crew has 3",
    )
    lacking = replace(house, scenario=scenario)
    assert "WARNING, crew-lift: E3 (about 80.8 kg)" in shown(understood_house(lacking))
    assert len(understood_document(lacking)["warnings"]) == 3


def test_names_are_plain_text() -> None:
    names = {"E1": "[bold]x[/]", "E2": "<img onerror>", "N1": "=cmd()", "N2": ":smile: [/red]"}
    house = scenario_house("garden-room")

    def renamed(frame: Frame) -> Frame:
        return replace(frame, name=names.get(frame.name, frame.name))

    def new(old: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(names.get(name, name) for name in old)

    pack = house.scenario.packs["A"]
    frames = {renamed(frame).name: renamed(frame) for frame in house.scenario.frames.values()}
    scenario = replace(
        house.scenario,
        name="[red]job[/red]",
        frames=frames,
        packs={"A": replace(pack, layers=tuple(new(layer) for layer in pack.layers))},
    )
    odd = replace(
        house,
        scenario=scenario,
        locations={names.get(name, name): where for name, where in house.locations.items()},
        joins=tuple(replace(join, frames=(new(join.frames)[0], new(join.frames)[1])) for join in house.joins),
        runs=tuple(replace(run, frames=new(run.frames)) for run in house.runs),
        levels=tuple(
            replace(level, perimeter=new(level.perimeter), reference=new(level.reference))
            for level in house.levels
        ),
    )
    text = shown(understood_house(odd))
    assert text.startswith("[red]job[/red]: 8 frames")
    for name in names.values():
        assert f"\n{name} " in text
