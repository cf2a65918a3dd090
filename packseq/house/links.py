"""Which frames touch which."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Links:
    """Frames linked two by two: the neighbours of each, sorted.

    Kept small on purpose: what else there is for graphs takes longer to load than a house takes to check.
    """

    neighbours: Mapping[str, tuple[str, ...]]

    @classmethod
    def between(cls, names: Iterable[str], pairs: Iterable[tuple[str, str]]) -> Links:
        """Return the links that pairs of frames make, among the frames named."""
        found: dict[str, set[str]] = {name: set() for name in names}
        for one, other in pairs:
            if one in found and other in found:
                found[one].add(other)
                found[other].add(one)
        return cls({name: tuple(sorted(others)) for name, others in found.items()})

    def among(self, names: Collection[str]) -> Links:
        """Return the links that lie among some of the frames."""
        return Links(
            {
                name: tuple(other for other in self.neighbours[name] if other in names)
                for name in sorted(names)
            }
        )

    def groups(self) -> tuple[tuple[str, ...], ...]:
        """Return the frames that hang together, each group sorted, in the order of the frames."""
        groups: dict[str, tuple[str, ...]] = {}
        for name in self.neighbours:
            if name not in groups:
                group = tuple(sorted(self._reached(name)))
                groups.update(dict.fromkeys(group, group))
        return tuple(dict.fromkeys(groups.values()))

    def _reached(self, name: str) -> set[str]:
        reached, ahead = {name}, [name]
        while ahead:
            new = set(self.neighbours[ahead.pop()]) - reached
            reached |= new
            ahead.extend(new)
        return reached
