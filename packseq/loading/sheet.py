"""The loading sheet: what the plant lays up, bottom layer first, and how it travels."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packseq.check.loading import MeasuredPack
from packseq.check.loading.measure import MeasuredLayer
from packseq.drawing.stacks import Lying, pack_from_above, pack_from_side
from packseq.loading.best import BestLoad
from packseq.loading.cautions import CAUTIONS
from packseq.loading.changes import Changes
from packseq.loading.delivered import delivered_section
from packseq.loading.easing import LimitCost
from packseq.loading.words import STOPPED, limit_words, promise
from packseq.scenario.model import Landing
from packseq.sheet import Column, Picture, Section, Sheet, Table, Words

TITLE = "Loading sheet"
LAST_OFF_FIRST_ON = (
    "Last off, first on: load each deck in this order from its front to its tail. The decks arrive in the"
    " order in which they stand here."
)


def load_sheet(
    best: BestLoad,
    costs: tuple[LimitCost, ...] = (),
    changes: Changes | None = None,
    *,
    stopped: bool = False,
) -> Sheet:
    """Return the loading sheet of a load.

    Parameters
    ----------
    best
        The load.
    costs
        What each limit costs, where anything is lifted twice.
    changes
        What would have to change in the packs as delivered, where that was asked.
    stopped
        Whether the search was stopped: then what limits cost was not looked for.
    """
    told = (STOPPED,) if stopped else limit_words(costs, best.extra_lifts)
    words = (*promise(best), *told)
    sections = [
        Section("What it comes to", (Words(words),)),
        Section("The packs, in the order in which they are wanted on site", (_overview(best),)),
        *_truck_sections(best),
        *(_pack_section(best, pack) for pack in best.packs),
    ]
    if changes is not None:
        sections.append(delivered_section(changes, best))
    return Sheet(TITLE, best.house.scenario.name, CAUTIONS, tuple(sections))


def _overview(best: BestLoad) -> Table:
    columns = (
        Column("wanted", number=True),
        Column("pack"),
        Column("lands at"),
        Column("layers", number=True),
        Column("frames", number=True),
        Column("kg", number=True),
        Column("high mm", number=True),
        Column("long mm", number=True),
        Column("wide mm", number=True),
        Column("centre of gravity off the middle, mm"),
        Column("overhang mm", number=True),
    )
    landings = best.house.scenario.landings
    rows = tuple(
        (
            str(number),
            pack.name,
            _lands(landings[pack.name]) if pack.name in landings else "",
            str(len(pack.layers)),
            str(sum(len(layer.lying) for layer in pack.layers)),
            f"{pack.mass_kg:.0f}",
            f"{pack.height_mm:.0f}",
            str(pack.length_mm),
            str(pack.width_mm),
            _centre(pack),
            f"{pack.overhang_mm:.0f}",
        )
        for number, pack in enumerate(best.packs, 1)
    )
    return Table(columns, rows)


def _lands(landing: Landing) -> str:
    place = landing.places[0]
    x, y = place.at
    told = f"x {x:.0f}, y {y:.0f} mm, long side at {place.bearing_deg:g} degrees"
    return told if landing.level == 1 else f"level {landing.level}, {told}"


def _centre(pack: MeasuredPack) -> str:
    along, across = pack.centre_mm
    return f"{_side(along, 'right', 'left')}, {_side(across, 'up', 'down')}"


def _side(off_mm: float, more: str, less: str) -> str:
    rounded = round(off_mm)
    if rounded == 0:
        return "0"
    return f"{abs(rounded)} {more if rounded > 0 else less}"


def _truck_sections(best: BestLoad) -> Iterator[Section]:
    columns = (
        Column("deck"),
        Column("goes on", number=True),
        Column("comes off", number=True),
        Column("pack"),
        Column("long mm", number=True),
        Column("kg", number=True),
    )
    by_name = {pack.name: pack for pack in best.packs}
    rows = [
        (
            deck.deck,
            str(number),
            str(len(deck.packs) + 1 - number),
            name,
            str(by_name[name].length_mm),
            f"{by_name[name].mass_kg:.0f}",
        )
        for deck in best.load.decks
        for number, name in enumerate(reversed(deck.packs), 1)
    ]
    if not rows:
        return
    yield Section("On the truck", (Table(columns, tuple(rows)), Words((LAST_OFF_FIRST_ON,))))


def _pack_section(best: BestLoad, pack: MeasuredPack) -> Section:
    stands = {frame: number for number, frame in enumerate(_stood(best), 1)}
    columns = (
        Column("lay", number=True),
        Column("layer from the top", number=True),
        Column("frames, from the left"),
        Column("how they lie"),
        Column("long mm", number=True),
        Column("kg", number=True),
        Column("reaches past what is beneath, mm", number=True),
        Column("stood as number"),
    )
    count = len(pack.layers)
    rows = tuple(
        (
            str(count - depth),
            str(depth + 1),
            ", ".join(lying.frame.name for lying in layer.lying),
            _how(layer),
            f"{layer.reach_mm[0]:.0f}",
            _mass(layer),
            f"{max(layer.overhang_mm):.0f}",
            ", ".join(str(stands[lying.frame.name]) for lying in layer.lying),
        )
        for depth, layer in reversed(list(enumerate(pack.layers)))
    )
    drawn = _drawn(pack)
    side = pack_from_side(f"Pack {pack.name} from the side", drawn)
    top = pack_from_above(f"Pack {pack.name} from above, top layer", drawn)
    return Section(
        f"Pack {pack.name}: lay it up from the bottom",
        (
            Table(columns, rows),
            Words((_about(best, pack),)),
            Picture(side.svg(), f"pack {pack.name} from the side, without its bearers"),
            Picture(top.svg(), f"pack {pack.name} from above: the top layer, the layer under it dashed"),
        ),
    )


def _about(best: BestLoad, pack: MeasuredPack) -> str:
    bearer_mm = best.house.scenario.load.bearer_mm
    return (
        f"Every layer is centred on the pack. On bearers {bearer_mm:.0f} mm high the pack is"
        f" {pack.height_mm:.0f} mm high and weighs {pack.mass_kg:.0f} kg. Left, right, up and down are as"
        " seen from above with the long side running to the right."
    )


def _stood(best: BestLoad) -> Sequence[str]:
    return [move.frame for move in best.plan.moves if move.do == "stand"]


def _how(layer: MeasuredLayer) -> str:
    if len(layer.lying) == 1:
        return "alone"
    return "side by side" if layer.layer.side_by_side else "end to end"


def _mass(layer: MeasuredLayer) -> str:
    estimate = any(lying.frame.mass_is_estimate for lying in layer.lying)
    return f"{layer.mass_kg:.0f}{' est.' if estimate else ''}"


def _drawn(pack: MeasuredPack) -> tuple[tuple[Lying, ...], ...]:
    return tuple(
        tuple(
            Lying(
                name=lying.frame.name,
                from_mm=lying.along_mm - lying.length_mm / 2 + pack.length_mm / 2,
                length_mm=lying.length_mm,
                across_mm=lying.across_mm - lying.width_mm / 2 + pack.width_mm / 2,
                width_mm=lying.width_mm,
                thickness_mm=lying.frame.thickness_mm,
            )
            for lying in layer.lying
        )
        for layer in pack.layers
    )
