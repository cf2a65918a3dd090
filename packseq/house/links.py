"""Which frames count as touching one another, and what hangs together because of it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

Links = Mapping[str, frozenset[str]]
"""For each frame those that it touches."""


def linked(names: Iterable[str], pairs: Iterable[Collection[str]]) -> Links:
    """Return for each of the named frames those that a pair joins it to."""
    links: dict[str, set[str]] = {name: set() for name in names}
    for first, second in pairs:
        links[first].add(second)
        links[second].add(first)
    return {name: frozenset(others) for name, others in links.items()}


def among(links: Links, names: Collection[str]) -> Links:
    """Return what some of the frames touch among themselves."""
    return {name: links[name].intersection(names) for name in sorted(names)}


def groups(links: Links) -> list[list[str]]:
    """Return the frames in groups that hang together, each group sorted, and the groups too."""
    found: list[list[str]] = []
    left = set(links)
    while left:
        group = reached = {min(left)}
        while reached:
            reached = {other for name in reached for other in links[name]} - group
            group = group | reached
        found.append(sorted(group))
        left -= group
    return found


def one_ring(links: Links) -> list[str] | None:
    """Return the frames in order where each touches just two others and all are one ring, else None."""
    if not links or any(len(others) != 2 or name in others for name, others in links.items()):  # noqa: PLR2004
        return None
    order = [min(links)]
    following = min(links[order[0]])
    while following != order[0]:
        order.append(following)
        following = next(iter(links[following] - {order[-2]}))
    return order if len(order) == len(links) else None
