"""Shortest walks over the sightlines of one level, for what stands at the moment."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache, partial
from itertools import pairwise

import numpy as np

from packseq.geometry import Point
from packseq.routes.crossing import Flags, Floats, Whole
from packseq.routes.opened import Opened
from packseq.routes.passing import Passing
from packseq.routes.sightlines import Bits, Sightlines, pack_standing

_STOP = -1
"""Stands for the stop where a walk begins, in place of the corner before."""


@dataclass(frozen=True)
class Walk:
    """A shortest walk between two stops: its length in mm and the corners it bends at, by position."""

    length_mm: float
    corners: tuple[int, ...]


@dataclass(frozen=True)
class _Field:
    """Walks from one stop to every corner: lengths in mm, and the corner before each, or `_STOP`."""

    length_mm: Floats
    previous: Whole


@dataclass(frozen=True)
class _Net:
    """The lines between corners that are open now, as the rows of a sparse matrix."""

    length_mm: Floats
    columns: Whole
    row_starts: Whole


class Walks:
    """Answers shortest walks on one level; results for recent states are kept.

    Every corner takes part, whether or not its frame stands. The lines open with more frames
    standing are therefore a subset of those open with fewer, and no walk ever gets shorter, not
    even by a rounding.
    """

    def __init__(self, lines: Sightlines) -> None:
        self._lines = lines
        count = len(lines.corners)
        rows = np.concatenate((lines.first, lines.second))
        columns = np.concatenate((lines.second, lines.first))
        order = np.lexsort((columns, rows))
        self._columns = columns[order]
        self._row_starts = rows[order].searchsorted(np.arange(count + 1))
        self._line = np.tile(np.arange(len(lines.first)), 2)[order]
        self._directed_mm = lines.corner_mm[self._line]
        self._line_code = lines.first * count + lines.second
        self._opened = {
            through: Opened(crossed.between_corners) for through, crossed in lines.crossed.items()
        }
        self._active = lru_cache(maxsize=1024)(partial(pack_standing, lines.keys))
        self._net = lru_cache(maxsize=32)(self._open_net)
        self._field = lru_cache(maxsize=4096)(self._walk_out)

    def walk(self, start: int, end: int, through: Passing, standing: frozenset[str]) -> Walk | None:
        """Return the shortest walk between two stops, by position, or None where there is no way."""
        lines, active = self._lines, self._active(standing)
        crossed = lines.crossed[through]
        if _open(crossed.stop_to_stop[:, start, end], active):
            return Walk(float(lines.stop_stop_mm[start, end]), ())
        field = self._field(start, through, standing)
        last = np.where(_open(crossed.stop_to_corner[:, end], active), lines.stop_corner_mm[end], np.inf)
        total = field.length_mm + last
        if not len(total) or not np.isfinite(total.min()):
            return None
        corner = int(total.argmin())
        length_mm = float(total[corner])
        bends = []
        while corner != _STOP:
            bends.append(corner)
            corner = int(field.previous[corner])
        return Walk(length_mm, tuple(reversed(bends)))

    def lengths_from(self, start: int, through: Passing, standing: frozenset[str]) -> Floats:
        """Return the shortest length in mm from one stop to every stop; infinite where there is no way."""
        lines, active = self._lines, self._active(standing)
        crossed = lines.crossed[through]
        direct = np.where(_open(crossed.stop_to_stop[:, start], active), lines.stop_stop_mm[start], np.inf)
        field = self._field(start, through, standing)
        last = np.where(_open(crossed.stop_to_corner, active), lines.stop_corner_mm, np.inf)
        round_corners = (field.length_mm + last).min(axis=1, initial=np.inf)
        shortest: Floats = np.minimum(direct, round_corners)
        return shortest

    def points(self, walk: Walk) -> tuple[Point, ...]:
        """Return where a walk bends, in mm on the plan."""
        return tuple((float(x), float(y)) for x, y in self._lines.corners[list(walk.corners)])

    def across(
        self, start: int, end: int, walk: Walk, through: Passing, standing: frozenset[str]
    ) -> list[tuple[str, ...]]:
        """Return the sets of frames among `standing` that lie across a walk found with fewer standing."""
        lines, crossed = self._lines, self._lines.crossed[through]
        if walk.corners:
            steps = [
                crossed.stop_to_corner[:, start, walk.corners[0]],
                crossed.stop_to_corner[:, end, walk.corners[-1]],
            ]
            codes = [min(pair) * len(lines.corners) + max(pair) for pair in pairwise(walk.corners)]
            steps.extend(crossed.between_corners[:, np.searchsorted(self._line_code, codes)].T)
        else:
            steps = [crossed.stop_to_stop[:, start, end]]
        across = np.bitwise_or.reduce(steps) & self._active(standing)
        return [lines.keys[bit] for bit in np.flatnonzero(np.unpackbits(across))]

    def _open_net(self, through: Passing, standing: frozenset[str]) -> _Net:
        lines = self._opened[through].lines(self._active(standing))
        places = np.flatnonzero(lines.take(self._line))
        return _Net(
            self._directed_mm.take(places), self._columns.take(places), places.searchsorted(self._row_starts)
        )

    def _walk_out(self, start: int, through: Passing, standing: frozenset[str]) -> _Field:
        """Run Dijkstra over the corners, with the stop as one more point after them."""
        # Slow to load, and much that imports this never walks: noting what happened, for one.
        from scipy.sparse import csr_array  # noqa: PLC0415
        from scipy.sparse.csgraph import dijkstra  # noqa: PLC0415

        lines, net = self._lines, self._net(through, standing)
        active = self._active(standing)
        seen = np.flatnonzero(_open(lines.crossed[through].stop_to_corner[:, start], active))
        count = len(lines.corners)
        graph = csr_array(
            (
                np.concatenate((net.length_mm, lines.stop_corner_mm[start, seen])),
                np.concatenate((net.columns, seen)),
                np.append(net.row_starts, len(net.columns) + len(seen)),
            ),
            shape=(count + 1, count + 1),
        )
        lengths, befores = dijkstra(graph, indices=[count], return_predecessors=True)
        previous = befores[0, :count].astype(np.int64)
        return _Field(lengths[0, :count], np.where(previous == count, _STOP, previous))


def _open(crossed: Bits, active: Bits) -> Flags:
    """Tell which lines cross nothing that blocks now; the first axis of `crossed` runs over bytes."""
    used = np.flatnonzero(active)
    shape = (len(used),) + (1,) * (crossed.ndim - 1)
    blocked = np.bitwise_or.reduce(crossed[used] & active[used].reshape(shape), axis=0)
    clear: Flags = blocked == 0
    return clear
