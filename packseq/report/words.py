"""How numbers, names and places are said, in plain ASCII around whatever names people gave."""

from __future__ import annotations

from collections.abc import Iterable

from packseq.house.model import House
from packseq.plan.model import Move


def metres(length_mm: float) -> int:
    """Return a length in whole metres, as walking is shown."""
    return round(length_mm / 1000)


def size(length_mm: float, width_mm: float) -> str:
    """Return a length and a width in metres, such as ``5.2 x 2.6 m``."""
    return f"{length_mm / 1000:.1f} x {width_mm / 1000:.1f} m"


def at(x_mm: float, y_mm: float, bearing_deg: float) -> str:
    """Return where something lies: its centre in mm and the direction of its long side."""
    turned = (
        f", long side turned {bearing_deg:g} degrees from east" if bearing_deg else ", long side east-west"
    )
    return f"centre x {x_mm:.0f}, y {y_mm:.0f} mm{turned}"


def counted(count: int, one: str, more: str | None = None) -> str:
    """Return a count with its noun: ``1 extra lift``, ``2 extra lifts``."""
    return f"{count} {one if count == 1 else more or one + 's'}"


def names(every: Iterable[str]) -> str:
    """Return names in their order, ``none`` when there are none."""
    return ", ".join(every) or "none"


def on_wall(house: House, frame: str) -> str:
    """Return where a frame stands: ``on the north wall``, ``on internal wall 3 (east-west)``."""
    name = wall(house, frame)
    return f"on {'the ' if name.endswith('wall') else ''}{name}"


def wall(house: House, frame: str) -> str:
    """Return the name of the run that a frame stands in."""
    return house.run_of[frame].name


def put_on(move: Move) -> str:
    """Return where a frame is set aside: ``spot S2``, ``the top of pack B``."""
    if move.to is None:
        return "its line"
    return str(move.to) if move.to.spot is not None else f"the top of {move.to}"


def taken_from(move: Move) -> str:
    """Return where a frame is taken from, such as ``pack A, layer 3``."""
    origin = move.origin
    if origin.pack is None or origin.layer is not None:
        return str(origin).replace(" layer ", ", layer ") if origin.spot is None else str(origin)
    return f"the top of {origin}"
