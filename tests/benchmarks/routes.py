"""How many legs a second, against networkx on a graph made anew for each state; how long a replay takes.

All times are CPU time, of one thread. Run by hand:

python tests/benchmarks/routes.py [frames ...]
"""

from __future__ import annotations

import math
import random
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise

import networkx as nx
import numpy as np
import scipy.sparse.csgraph  # noqa: F401 - loaded here, so that no leg pays for it
from generated import generated_scenario

from packseq.baseline import by_frame_list
from packseq.check import replay
from packseq.geometry import whole_mm
from packseq.house.derive import derive_house
from packseq.routes.corners import corner_pairs
from packseq.routes.crossing import lines_crossing
from packseq.routes.engine import Routes, build_routes
from packseq.routes.ground import blockers, outlines
from packseq.routes.passing import passing
from packseq.routes.values import Stop, pack_stop, spot_stop
from packseq.scenario.model import Opening, Scenario

State = tuple[frozenset[str], Stop, Stop]


def with_doors(scenario: Scenario, dice: random.Random) -> Scenario:
    """Put a door into half of the frames that are long enough; through a wide one a frame can be carried."""
    frames = dict(scenario.frames)
    for frame in scenario.frames.values():
        if frame.length_mm > 1300 and dice.random() < 0.5:
            width_mm = 1700 if frame.length_mm > 2400 else 860
            hole = Opening("door", dice.uniform(100, frame.length_mm - width_mm - 100), width_mm, 0, 2040)
            frames[frame.name] = replace(frame, openings=(hole,))
    return replace(scenario, frames=frames)


def states(scenario: Scenario, count: int, dice: random.Random) -> Iterator[State]:
    """Walks between packs and spots, each with other frames standing."""
    stops = [pack_stop(pack, place) for pack in scenario.packs.values() for place in pack.places]
    stops += [spot_stop(spot) for spot in scenario.spots.values()]
    for _ in range(count):
        start, end = dice.sample(stops, 2)
        yield frozenset(name for name in scenario.frames if dice.random() < 0.5), start, end


def by_networkx(scenario: Scenario) -> Callable[[State], int | None]:
    """Return a way to answer a leg with a graph of what is open at the moment, made for it alone."""
    through = passing(scenario.frames.values(), None, scenario.clearance_mm)
    blocking = blockers(scenario.frames, scenario.no_go, through)
    corners, first, second = corner_pairs(outlines(scenario.frames, scenario.no_go, [through]))

    def answer(state: State) -> int | None:
        standing, start, end = state
        points = np.concatenate((corners, [start.point, end.point]))
        last = len(corners)
        starts = np.concatenate((first, np.full(last, last), np.full(last, last + 1), [last]))
        ends = np.concatenate((second, np.arange(last), np.arange(last), [last + 1]))
        for blocker in blocking:
            if blocker.leaving is None and standing.issuperset(blocker.frames):
                hit = lines_crossing(blocker.shape, points, starts, ends)
                starts, ends = np.delete(starts, hit), np.delete(ends, hit)
        graph: nx.Graph[int] = nx.Graph()
        graph.add_nodes_from((last, last + 1))
        lengths = np.hypot(*(points[ends] - points[starts]).T)
        graph.add_weighted_edges_from(zip(starts.tolist(), ends.tolist(), lengths.tolist(), strict=True))
        length_mm = nx.single_source_dijkstra_path_length(graph, last).get(last + 1, math.inf)
        return whole_mm(length_mm) if math.isfinite(length_mm) else None

    return answer


def measure(frames: int) -> None:
    """Print build time and legs a second for one house, both ways, and check that they agree."""
    dice = random.Random(frames)
    scenario = with_doors(generated_scenario(frames), dice)
    marks = [time.process_time()]
    routes = build_routes(scenario)
    marks.append(time.process_time())
    walks = list(states(scenario, 400, dice))
    ours = [routes.leg(start, end, None, standing) for standing, start, end in walks]
    marks.append(time.process_time())
    answer = by_networkx(scenario)
    some = walks[:20]
    marks.append(time.process_time())
    theirs = [answer(state) for state in some]
    marks.append(time.process_time())
    build_s, ours_s, _, theirs_s = (after - before for before, after in pairwise(marks))
    for leg, other_mm in zip(ours, theirs, strict=False):
        if (leg is None) != (other_mm is None) or (leg and other_mm and abs(leg.mm - other_mm) > 1):
            raise SystemExit(f"{frames} frames: {leg} here, {other_mm} mm by networkx")
    print(
        f"{len(scenario.frames):4} frames: built in {build_s:5.2f} s; "
        f"{len(walks) / ours_s:8.0f} legs a second, {len(some) / theirs_s:6.1f} by networkx"
    )
    measure_replay(scenario, routes)


def measure_replay(scenario: Scenario, routes: Routes) -> None:
    """Print how long the replay of a plan takes, its routes built before and not."""
    house = derive_house(scenario)
    plan = by_frame_list(house, routes=routes).plan
    if plan is None:
        print("      no crew gets through without a plan, so there is none to replay")
        return
    marks = [time.process_time()]
    fresh = build_routes(scenario)
    marks.append(time.process_time())
    cost = replay(house, plan, fresh).cost
    marks.append(time.process_time())
    replay(house, plan, fresh)
    marks.append(time.process_time())
    build_s, first_s, again_s = (after - before for before, after in pairwise(marks))
    print(
        f"      {len(plan.moves)} moves ({cost.extra_lifts} extra lifts): routes built in {build_s:.2f} s, "
        f"replayed in {first_s:.3f} s, again in {again_s:.3f} s"
    )


if __name__ == "__main__":
    for wanted in [int(argument) for argument in sys.argv[1:]] or [36, 60, 110]:
        measure(wanted)
