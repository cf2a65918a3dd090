"""True walking routes for a scenario: legs, what closes a way in, and what holds a leg back."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from packseq.geometry import Point, leg_mm, whole_mm
from packseq.routes.ground import Blocker, blockers, outlines
from packseq.routes.known import KnownWays
from packseq.routes.passing import Passing, passing
from packseq.routes.sightlines import draw_sightlines
from packseq.routes.values import Leg, Load, Stop, Way, load_of, scenario_stops
from packseq.routes.walks import Walk, Walks
from packseq.routes.written import crosses
from packseq.scenario.model import Frame, Scenario


@dataclass(frozen=True)
class LevelRoutes:
    """One level: its walks, the positions of its stops, its frames, the openings that each load passes.

    `blocking` has what blocks, for each way of passing openings.
    """

    walks: Walks
    stops: Mapping[Stop, int]
    frames: frozenset[str]
    through: Mapping[Load, Passing]
    blocking: Mapping[Passing, Sequence[Blocker]]


class Routes:
    """Answers for legs between the stops it was built for; make it with `build_routes`.

    In every method `carried` is the frame in the team's hands, None for an empty-handed walk, and
    `standing` names the frames that stand; frames of other levels make no difference.
    """

    def __init__(self, levels: Mapping[int, LevelRoutes]) -> None:
        self._levels = levels
        self._legs = lru_cache(maxsize=4096)(self._leg)
        self._known = KnownWays(self._way)

    @property
    def stops(self) -> tuple[Stop, ...]:
        """Every stop that legs may begin and end at."""
        return tuple(stop for level in self._levels.values() for stop in level.stops)

    def leg(self, start: Stop, end: Stop, carried: Frame | None, standing: frozenset[str]) -> Leg | None:
        """Return the shortest walkable route at this moment, or None where there is no way in.

        Between levels it is the straight line on the plan.

        Raises
        ------
        KeyError
            For a stop that the routes were not built for.
        """
        return self._legs(start, end, load_of(carried), standing)

    def way(self, start: Stop, end: Stop, carried: Frame | None, standing: frozenset[str]) -> Way | None:
        """Return the leg's length, and what must not come to stand for it to stay the shortest.

        None where there is no way in.
        """
        return self._way(start, end, load_of(carried), standing)

    def is_open(self, start: Stop, end: Stop, carried: Frame | None, standing: frozenset[str]) -> bool:
        """Tell whether there is a leg at this moment; quick where much the same was asked before."""
        return self._known.is_open(start, end, load_of(carried), standing)

    def legs_from(self, start: Stop, carried: Frame | None, standing: frozenset[str]) -> dict[Stop, int]:
        """Return the length in whole mm of the leg to every stop of the level that can be reached."""
        level = self._levels[start.level]
        lengths = level.walks.lengths_from(
            level.stops[start], level.through[load_of(carried)], standing & level.frames
        )
        return {
            stop: whole_mm(length)
            for stop, length in zip(level.stops, lengths.tolist(), strict=True)
            if math.isfinite(length)
        }

    def walkable(
        self,
        start: Stop,
        end: Stop,
        points: Sequence[Point],
        carried: Frame | None,
        standing: frozenset[str],
    ) -> bool:
        """Tell whether a route, written in whole mm from one stop to another, crosses nothing.

        Between levels any route will do.
        """
        if start.level != end.level or len(points) < 2:  # noqa: PLR2004 - one point is no walk
            return True
        level = self._levels[start.level]
        ends = [start, *[None] * (len(points) - 2), end]
        return not any(
            crosses(blocker, points, ends)
            for blocker in level.blocking[level.through[load_of(carried)]]
            if standing.issuperset(blocker.frames)
        )

    def closes(
        self, start: Stop, end: Stop, carried: Frame | None, standing: frozenset[str]
    ) -> frozenset[str]:
        """Return standing frames that between them leave no route, none of which could be spared.

        Empty when no-go areas alone leave none.

        Raises
        ------
        ValueError
            If there is a route.
        """
        return self._least(start, end, carried, standing, math.inf)

    def holds_back(
        self, start: Stop, end: Stop, carried: Frame | None, standing: frozenset[str], at_least_mm: int
    ) -> frozenset[str]:
        """Return standing frames with which alone the leg is `at_least_mm` or more, none to be spared.

        A leg without a route counts as longer than any length.

        Raises
        ------
        ValueError
            If the leg is shorter than `at_least_mm` with all of `standing`.
        """
        return self._least(start, end, carried, standing, at_least_mm)

    def _leg(self, start: Stop, end: Stop, load: Load, standing: frozenset[str]) -> Leg | None:
        if start.level != end.level:
            return Leg(leg_mm(start.point, end.point), (start.point, end.point))
        walk = self._walk(start, end, load, standing)
        if walk is None:
            return None
        bends = self._levels[start.level].walks.points(walk)
        points = [start.point]
        points.extend(point for point in (*bends, end.point) if point != points[-1])
        return Leg(whole_mm(walk.length_mm), tuple(points))

    def _way(self, start: Stop, end: Stop, load: Load, standing: frozenset[str]) -> Way | None:
        if start.level != end.level:
            return Way(leg_mm(start.point, end.point), ())
        walk = self._walk(start, end, load, standing)
        if walk is None:
            return None
        level = self._levels[start.level]
        across = level.walks.across(
            level.stops[start], level.stops[end], walk, level.through[load], level.frames
        )
        return Way(whole_mm(walk.length_mm), tuple(frozenset(frames) for frames in across))

    def _walk(self, start: Stop, end: Stop, load: Load, standing: frozenset[str]) -> Walk | None:
        level = self._levels[start.level]
        return level.walks.walk(
            level.stops[start], level.stops[end], level.through[load], standing & level.frames
        )

    def _least(
        self, start: Stop, end: Stop, carried: Frame | None, standing: frozenset[str], at_least_mm: float
    ) -> frozenset[str]:
        """Add frames across the shortest walk until it is long enough, then drop those that can be spared."""
        leg = self.leg(start, end, carried, standing)
        if leg is not None and leg.mm < at_least_mm:
            raise ValueError(f"the leg is only {leg.mm} mm with all of these standing")
        if start.level != end.level:
            return frozenset()
        level = self._levels[start.level]
        way = (level.stops[start], level.stops[end])
        through = level.through[load_of(carried)]

        def too_short(frames: frozenset[str]) -> Walk | None:
            walk = level.walks.walk(*way, through, frames)
            return None if walk is None or whole_mm(walk.length_mm) >= at_least_mm else walk

        kept: frozenset[str] = frozenset()
        while (walk := too_short(kept)) is not None:
            across = level.walks.across(*way, walk, through, standing & level.frames)
            kept |= min(((frozenset(key) - kept) for key in across), key=lambda new: (len(new), sorted(new)))
        for frame in sorted(kept):
            if too_short(kept - {frame}) is None:
                kept -= {frame}
        return kept


def build_routes(scenario: Scenario, extra: Iterable[Stop] = ()) -> Routes:
    """Prepare the routes of a scenario, level by level.

    Parameters
    ----------
    scenario
        Frames with their openings, no-go areas, packs, spots and the clearance are used.
    extra
        Stops beside the scenario's own (see `scenario_stops`), such as proposed spots.
    """
    stops = tuple(dict.fromkeys((*scenario_stops(scenario), *extra)))
    levels = sorted({stop.level for stop in stops})
    return Routes({level: _build_level(scenario, level, stops) for level in levels})


def _build_level(scenario: Scenario, level: int, all_stops: Iterable[Stop]) -> LevelRoutes:
    frames = {name: frame for name, frame in scenario.frames.items() if frame.level == level}
    stops = [stop for stop in all_stops if stop.level == level]
    carried = {load_of(frame): frame for frame in (None, *frames.values())}
    through = {
        load: passing(frames.values(), frame, scenario.clearance_mm) for load, frame in carried.items()
    }
    ways = tuple(dict.fromkeys(through.values()))
    blocking = {way: blockers(frames, scenario.no_go, way) for way in ways}
    lines = draw_sightlines(outlines(frames, scenario.no_go, ways), stops, blocking)
    return LevelRoutes(
        walks=Walks(lines),
        stops={stop: position for position, stop in enumerate(stops)},
        frames=frozenset(frames),
        through=through,
        blocking=blocking,
    )
