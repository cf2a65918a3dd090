"""Tables of what lies where before work begins: packs from the top, and spots."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import RenderableType

from packseq.report.layout import columns, listing, paragraph, section
from packseq.report.words import at, counted, names, size
from packseq.scenario.model import Pack, Scenario

KINDS = {"pile": "pile: last on, first off", "lean": "lean: any frame can be taken"}
"""What each kind of spot means."""


def packs_section(scenario: Scenario) -> RenderableType:
    """Return every pack by layer, from the top."""
    rows = [
        (pack.name, str(number), names(layer))
        for pack in scenario.packs.values()
        for number, layer in zip(pack.layer_numbers, pack.layers, strict=True)
    ]
    return section(
        "Packs, from the top",
        listing(line for pack in scenario.packs.values() for line in _pack(pack, scenario)),
        columns(("pack", "layer", "frames"), rows, right={"layer"}),
    )


def spots_section(scenario: Scenario) -> RenderableType:
    """Return every spot, or say that the plan proposes its own."""
    title = "Spots for set-aside frames"
    if not scenario.spots:
        return section(title, paragraph("None given: the plan proposes its own."))
    levels = len(scenario.levels) > 1
    rows = (
        (
            f"{spot.name} (level {spot.level})" if levels else spot.name,
            KINDS[spot.kind],
            str(spot.holds),
            size(*spot.size_mm),
            at(*spot.at, spot.bearing_deg),
        )
        for spot in scenario.spots.values()
    )
    return section(title, columns(("spot", "kind", "holds", "size", "where"), rows, right={"holds"}))


def _pack(pack: Pack, scenario: Scenario) -> Iterator[str]:
    mass_kg = sum(scenario.frames[name].mass_kg for name in pack.frames)
    level = f", level {pack.level}" if len(scenario.levels) > 1 else ""
    places = " or ".join(at(*place.at, place.bearing_deg) for place in pack.places)
    yield (
        f"Pack {pack.name}{level}: {counted(len(pack.frames), 'frame')}, {mass_kg:.0f} kg, "
        f"{size(pack.length_mm, pack.width_mm)}; {places}."
    )
    if pack.holds:
        yield (
            f"Frames may be set aside on top of pack {pack.name} "
            f"while it has at most {counted(pack.holds, 'layer')}."
        )
