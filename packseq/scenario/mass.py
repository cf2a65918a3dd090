"""What a frame weighs when nobody says: its timber counted piece by piece.

The framing assumed here is common practice, no source; each rule stands beside the
constant or the function that uses it. The estimate is for planning lifts, and a weighed
or scheduled mass in frames.csv always comes before it. Linings, wraps, joinery, fixings
and straps are not counted.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from packseq.scenario.model import Opening

PIECE_MM = 45.0
"""Thickness of every plate, stud and nog; their depth is the thickness of the frame."""

STUD_SPACING_MM = 600.0
"""Centres of studs, common practice, no source."""

NOG_SPACING_MM = 1350.0
"""Most height between plates and rows of nogs, common practice, no source."""

LINTEL_DEPTHS_MM = ((1200.0, 140.0), (1800.0, 190.0), (2400.0, 240.0), (math.inf, 290.0))
"""Lintel depth by clear span: up to the first figure, the second; common practice, no source."""

DENSITY_KG_M3 = 500.0
"""Kiln-dried radiata pine at 12 % moisture.

A basic density of 415 kg/m3, the middle of what one radiata guide gives, comes to
498 kg/m3 at 12 % by `specific_gravity_at` and `timber_density`; a New Zealand Forest Service table
has 496 kg/m3 for Rotorua at 12 %.
"""

WATER_KG_M3 = 1000.0
_TOUCH_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Piece:
    """Pieces of one kind and size: `depth_mm` by `width_mm` in section, `length_mm` long."""

    kind: str
    count: int
    length_mm: float
    depth_mm: float
    width_mm: float

    @property
    def volume_m3(self) -> float:
        """Volume of all of them in cubic metres."""
        return self.count * self.length_mm * self.depth_mm * self.width_mm / 1e9

    def mass_kg(self, density_kg_m3: float = DENSITY_KG_M3) -> float:
        """Return the mass of all of them in kg."""
        return self.volume_m3 * density_kg_m3


def timber_density(specific_gravity: float, moisture_percent: float, water: float = WATER_KG_M3) -> float:
    """Return the density of wood at a moisture content, in the unit of `water`.

    `specific_gravity` is oven-dry mass over volume at that moisture content.
    Source: USDA Wood Handbook FPL-GTR-190, chapter 4, ``rho_x = rho_w G_x (1 + x / 100)``.
    """
    return water * specific_gravity * (1 + moisture_percent / 100)


def specific_gravity_at(basic: float, moisture_percent: float) -> float:
    """Return specific gravity at a moisture content of at most 30 % from the basic (green volume) one.

    Source: USDA Wood Handbook FPL-GTR-190, chapter 4, from memory:
    ``G_x = G_b / (1 - 0.265 a G_b)`` with ``a = (30 - x) / 30``.
    """
    dryness = (30 - moisture_percent) / 30
    return basic / (1 - 0.265 * dryness * basic)


def estimate_mass_kg(
    length_mm: float,
    height_mm: float,
    thickness_mm: float,
    openings: Sequence[Opening] = (),
    *,
    stud_spacing_mm: float = STUD_SPACING_MM,
    density_kg_m3: float = DENSITY_KG_M3,
) -> float:
    """Estimate the mass of a frame in kg, to 0.1 kg, from its `timber_list`."""
    pieces = timber_list(length_mm, height_mm, thickness_mm, openings, stud_spacing_mm=stud_spacing_mm)
    return round(sum(piece.mass_kg(density_kg_m3) for piece in pieces), 1)


def timber_list(
    length_mm: float,
    height_mm: float,
    thickness_mm: float,
    openings: Sequence[Opening] = (),
    *,
    stud_spacing_mm: float = STUD_SPACING_MM,
) -> tuple[Piece, ...]:
    """List the timber that a frame is taken to be made of.

    One bottom plate and one top plate run the whole length: the bottom plate is delivered through
    at doors and cut out on site. Studs stand at both ends and at `stud_spacing_mm` between; each
    opening has a trimmer stud and a full stud at each side where there is room. Heights of
    sills and heads are measured from the underside of the bottom plate.
    """
    stud_mm = height_mm - 2 * PIECE_MM
    regular = _regular_centres(length_mm, stud_spacing_mm)
    trimmers, studs = _standing(length_mm, openings, regular)
    lengths: Counter[tuple[str, float, float]] = Counter()
    lengths["bottom plate", length_mm, PIECE_MM] += 1
    lengths["top plate", length_mm, PIECE_MM] += 1
    lengths["stud", stud_mm, PIECE_MM] += studs
    for opening, count in zip(openings, trimmers, strict=True):
        lengths["trimmer stud", opening.head_mm - PIECE_MM, PIECE_MM] += count
        for kind, piece_length_mm, depth_mm in _round_opening(opening, count, height_mm, regular):
            lengths[kind, piece_length_mm, depth_mm] += 1

    nog_rows = math.ceil(stud_mm / NOG_SPACING_MM) - 1
    filled_mm = sum(opening.width_mm for opening in openings) + PIECE_MM * (studs + sum(trimmers))
    lengths["row of nogs", max(0.0, length_mm - filled_mm), PIECE_MM] += nog_rows
    return tuple(
        Piece(kind, count, piece_length_mm, depth_mm, thickness_mm)
        for (kind, piece_length_mm, depth_mm), count in lengths.items()
        if count > 0 and piece_length_mm > 0
    )


def _regular_centres(length_mm: float, spacing_mm: float) -> tuple[float, ...]:
    """Return where studs stand when there is no opening, measured from end 1 to their centres."""
    first, last = PIECE_MM / 2, length_mm - PIECE_MM / 2
    clear_of_last = math.floor((last - PIECE_MM - first) / spacing_mm) + 1
    return (*(first + spacing_mm * place for place in range(clear_of_last)), last)


def _standing(
    length_mm: float, openings: Sequence[Opening], regular: Sequence[float]
) -> tuple[list[int], int]:
    """Count the trimmer studs of each opening, and the full studs of the frame.

    Each piece goes in only where it is clear of the openings and of the pieces before it: the end
    studs first, then trimmers, then the studs beside them, then the regular ones.
    """
    taken = [(opening.from_mm, opening.from_mm + opening.width_mm) for opening in openings]

    def place(centre: float) -> bool:
        near, far = centre - PIECE_MM / 2, centre + PIECE_MM / 2
        free = near >= -_TOUCH_MM and far <= length_mm + _TOUCH_MM
        free = free and all(far <= start + _TOUCH_MM or end - _TOUCH_MM <= near for start, end in taken)
        if free:
            taken.append((near, far))
        return free

    def beside(opening: Opening, distance: float) -> tuple[float, float]:
        return opening.from_mm - distance, opening.from_mm + opening.width_mm + distance

    studs = sum(place(centre) for centre in (regular[0], regular[-1]))
    trimmers = [sum(place(centre) for centre in beside(opening, PIECE_MM / 2)) for opening in openings]
    studs += sum(place(centre) for opening in openings for centre in beside(opening, PIECE_MM * 1.5))
    studs += sum(place(centre) for centre in regular[1:-1])
    return trimmers, studs


def _round_opening(
    opening: Opening, trimmers: int, height_mm: float, regular: Sequence[float]
) -> Iterator[tuple[str, float, float]]:
    """Yield kind, length and depth of each piece over and under an opening.

    The lintel reaches over the trimmer studs and fills what room there is up to the top plate.
    Short studs carry on the regular centres over the lintel and under the sill.
    """
    near, far = opening.from_mm + PIECE_MM / 2, opening.from_mm + opening.width_mm - PIECE_MM / 2
    centres = [centre for centre in regular if near <= centre <= far]
    room_mm = height_mm - PIECE_MM - max(opening.head_mm, PIECE_MM)
    depth_mm = min(room_mm, next(depth for span, depth in LINTEL_DEPTHS_MM if opening.width_mm <= span))
    if depth_mm > 0:
        yield "lintel", opening.width_mm + trimmers * PIECE_MM, depth_mm
        for _ in centres:
            yield "short stud over", room_mm - depth_mm, PIECE_MM
    under_mm = opening.sill_mm - 2 * PIECE_MM
    if under_mm >= 0:
        yield "sill trimmer", opening.width_mm, PIECE_MM
        for _ in centres:
            yield "short stud under", under_mm, PIECE_MM
