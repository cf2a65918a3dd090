"""Orders of standing with few extra lifts: by the model, by a narrow look, and what they learn."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import HealthCheck, assume, given, settings
from opened_states import yard_of
from oracle import Oracle
from standup_jobs import told
from walled_houses import walled_houses

from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.standup.found import PlanWriter, stage_result
from packseq.standup.front import Front, go_on_side_by_side
from packseq.standup.lifts import OrderSearch, fewest_lifts
from packseq.standup.solver import Clock, Solver
from packseq.standup.states.moves import Scale
from packseq.standup.survey import survey
from packseq.standup.ways import also_shut_out, shut_outs

quick = settings(
    max_examples=12, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
SCALE = Scale(8, 0)


def patient() -> Solver:
    """Return a solver whose clock begins now."""
    return Solver(Clock(60.0))


def searched(house: House) -> tuple[House, OrderSearch]:
    """Return a house told to go one way round, and its search for the fewest lifts, settled."""
    house = told(house, "anticlockwise")
    yard = yard_of(house)
    yard = replace(yard, job=replace(yard.job, for_walking=False))
    search = fewest_lifts(yard, patient())
    assert search.settled(None)
    return house, search


@quick
@given(walled_houses())
def test_no_plan_has_fewer_lifts_than_the_order_with_the_fewest(house: House) -> None:
    house, search = searched(house)
    best = Oracle(house).best()
    assert search.possible or best is None
    if best is not None:
        assert search.bound <= best.cost[0]


@quick
@given(walled_houses())
def test_the_order_found_leaves_every_frame_a_way_in(house: House) -> None:
    house, search = searched(house)
    assume(search.best is not None)
    assert search.best is not None
    yard = yard_of(house)
    assert search.best.lifts == search.bound
    assert list(shut_outs(yard, search.best.stands, search.best.aside)) == []


@quick
@given(walled_houses())
def test_an_order_seen_by_a_narrow_look_leaves_ways_in_and_has_no_fewer_lifts(house: House) -> None:
    house, search = searched(house)
    yard = yard_of(house)
    yard = replace(yard, job=replace(yard.job, for_walking=False, shut_out=search.job.shut_out))
    seen = survey(yard, len(yard.frames), lambda: False)
    # It may be that no spot takes a frame that has to wait: the order alone does not know of that.
    assume(seen is not None)
    assert seen is not None
    assert search.best is not None
    assert sorted(seen.stands) == sorted(yard.frames.names)
    assert list(shut_outs(yard, seen.stands, seen.aside)) == []
    assert seen.lifts >= search.best.lifts


@quick
@given(walled_houses())
def test_what_shuts_out_others_besides_does_so_by_the_routes(house: House) -> None:
    house, search = searched(house)
    yard = yard_of(house)
    for known in also_shut_out(yard, search.job.shut_out):
        number = yard.frames.number[known.frame]
        frame, line = yard.frame(number), yard.lines[number]
        places = [yard.stops[len(yard.packs) + spot] for spot in yard.fitting[number]]
        starts = [yard.stops[yard.pack_of[number]]] if known.unless_aside else places
        assert known.frame not in known.by
        assert starts
        for start in starts:
            assert yard.legs.routes.leg(start, line, frame, known.by) is None


def plan_in_no_time(house: House) -> tuple[Front, Plan | None]:
    """Return a search with hardly any work for the order, and the plan that it comes to."""
    yard = yard_of(house)
    job = replace(yard.job, for_walking=False)
    front = Front(job, yard.legs, patient(), SCALE, most_work=1e-6, first_work=0.0)
    while not front.done(None):
        go_on_side_by_side([front], None)
    if front.found is None:
        return front, None
    writer = PlanWriter(house, yard.legs.routes, SCALE)
    return front, writer.planned(front.found, 0, (stage_result("extra lifts", front.lifts, front.bound),))


@quick
@given(walled_houses())
def test_without_time_for_a_proof_there_is_a_plan_and_a_bound_that_holds(house: House) -> None:
    house = told(house, "anticlockwise")
    front, plan = plan_in_no_time(house)
    best = Oracle(house).best()
    if plan is not None:
        assert best is not None
        lifts = sum(move.do == "set aside" for move in plan.moves)
        assert front.bound <= best.cost[0] <= lifts == front.lifts


@quick
@given(walled_houses())
def test_the_plan_at_hand_always_has_the_lifts_that_are_told(house: House) -> None:
    house = told(house, "anticlockwise")
    yard = yard_of(house)
    job = replace(yard.job, for_walking=False)
    front = Front(job, yard.legs, patient(), SCALE, most_work=10.0, first_work=0.0)
    while not front.done(None):
        go_on_side_by_side([front], None)
        if front.found is not None:
            assert front.lifts == sum(step.do == "set aside" for step in front.found.steps)
