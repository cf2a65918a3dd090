"""packs.csv: the order in which the frames were stacked, checked against frames and packs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from packseq.errors import Fault
from packseq.scenario import limits
from packseq.scenario.cells import Cells
from packseq.scenario.files import PACKS
from packseq.scenario.model import Frame, Landing, Pack
from packseq.scenario.names import KnownNames, name_key, shown
from packseq.scenario.sitefile import DeclaredPack
from packseq.scenario.sitevalues import KnownFrames
from packseq.scenario.tables import Shape, Table

PACKS_SHAPE = Shape(
    file=PACKS,
    required=("pack", "layer", "frame"),
    optional=(),
    names=("pack", "frame"),
    most_rows=limits.MOST_FRAMES,
)


@dataclass(frozen=True, slots=True)
class StackRow:
    """One row of packs.csv; `frame` is None where the name is unknown, `layer` where it is no number."""

    number: int
    pack: str
    layer: int | None
    frame: str | None


def read_stack_rows(table: Table, names: KnownNames) -> tuple[tuple[StackRow, ...], tuple[Fault, ...]]:
    """Read every row of packs.csv, with whatever is wrong in any of them."""
    rows: list[StackRow] = []
    faults: list[Fault] = list(table.faults)
    for row in table.rows:
        cells = Cells(PACKS, row, names.find(row.cells.get("frame", "")))
        pack = cells.name("pack")
        layer = cells.whole("layer", 1, limits.MOST_FRAMES)
        frame = cells.known("frame", names, hint=len(faults) < limits.HINTED_FAULTS)
        rows.append(StackRow(row.number, pack, layer, frame))
        faults.extend(cells.faults)
    return tuple(rows), tuple(faults)


def stack_faults(
    rows: Sequence[StackRow],
    frames: KnownFrames,
    declared: Sequence[DeclaredPack],
    pack_names: KnownNames,
    *,
    complete: bool,
) -> Iterator[Fault]:
    """Tell what does not agree between the stacks, the frames and the packs of site.toml.

    `complete` tells that no row of packs.csv went unread, so that what is not in it is missing.
    """
    yield from _frames_twice(rows)
    by_pack = _by_pack(rows)
    for pack_rows in by_pack.values():
        fault = pack_names.fault(pack_rows[0].pack)
        if fault is not None:
            yield Fault(PACKS, fault, row=pack_rows[0].number, column="pack")
    if complete:
        placed = {row.frame for row in rows}
        for name in frames.names.spelling.values():
            if name not in placed:
                yield Fault(PACKS, "the frame is in no pack", frame=name)
    declared_levels = {name_key(pack.name): pack.level for pack in declared}
    for key, pack_rows in by_pack.items():
        yield from _mixed_levels(pack_rows, frames.levels, declared_levels.get(key))


def stack(landing: Landing, rows: Sequence[StackRow], frames: Mapping[str, Frame]) -> Pack | None:
    """Return a pack with its layers from the top, from the sound rows of packs.csv; None without frames."""
    layers: defaultdict[int, list[str]] = defaultdict(list)
    for row in rows:
        if row.layer is not None and row.frame is not None and name_key(row.pack) == name_key(landing.name):
            layers[row.layer].append(row.frame)
    if not layers:
        return None
    numbers = tuple(sorted(layers))
    return pack_of_layers(landing, tuple(tuple(layers[number]) for number in numbers), frames, numbers)


def pack_of_layers(
    landing: Landing,
    layers: Sequence[Sequence[str]],
    frames: Mapping[str, Frame],
    numbers: Sequence[int] | None = None,
) -> Pack:
    """Return the pack of these layers, top first, landed at a place.

    `numbers` are those written in packs.csv; from 1 on unless given.
    """
    held = [frames[name] for layer in layers for name in layer]
    return Pack(
        name=landing.name,
        level=landing.level,
        places=landing.places,
        holds=landing.holds,
        layers=tuple(map(tuple, layers)),
        layer_numbers=tuple(numbers or range(1, len(layers) + 1)),
        length_mm=max(frame.length_mm for frame in held),
        width_mm=max(frame.height_mm for frame in held),
    )


def _by_pack(rows: Sequence[StackRow]) -> Mapping[str, Sequence[StackRow]]:
    """Return the rows of each pack, by the key of its name, in the order of the file."""
    grouped: defaultdict[str, list[StackRow]] = defaultdict(list)
    for row in rows:
        if row.pack:
            grouped[name_key(row.pack)].append(row)
    return grouped


def _frames_twice(rows: Sequence[StackRow]) -> Iterator[Fault]:
    first: dict[str, StackRow] = {}
    for row in rows:
        if row.frame is None:
            continue
        earlier = first.setdefault(row.frame, row)
        if earlier is not row:
            text = f"the frame is already in pack {shown(earlier.pack)}, row {earlier.number}"
            yield Fault(PACKS, text, row=row.number, column="frame", frame=row.frame)


def _mixed_levels(
    rows: Sequence[StackRow], levels: Mapping[str, int], declared: int | None
) -> Iterator[Fault]:
    """Tell which frames of a pack are not of its level (of its first frame's, where none is declared)."""
    known = [(row, levels[row.frame]) for row in rows if row.frame is not None and row.frame in levels]
    if not known:
        return
    level = known[0][1] if declared is None else declared
    for row, own in known:
        if own != level:
            text = f"the frame is of level {own} but pack {shown(row.pack)} is of level {level}"
            yield Fault(PACKS, text, row=row.number, column="frame", frame=row.frame)
