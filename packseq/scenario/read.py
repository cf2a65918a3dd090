"""A scenario folder to a `Scenario`, or every fault in it at once.

What needs geometry between frames (joins, runs, the perimeter, overlaps) is checked by
`packseq.house`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from packseq.errors import Fault, InputError
from packseq.scenario.files import FILES, LAYOUT, SITE, FolderText, read_folder
from packseq.scenario.frames import FRAMES_SHAPE, FrameRow, read_frame_rows
from packseq.scenario.model import Frame, Scenario
from packseq.scenario.names import KnownNames
from packseq.scenario.openings import (
    OPENINGS_SHAPE,
    OpeningRow,
    fit_faults,
    openings_by_frame,
    read_opening_rows,
)
from packseq.scenario.site import Site
from packseq.scenario.sitefile import read_site
from packseq.scenario.sitevalues import KnownFrames
from packseq.scenario.stacks import PACKS_SHAPE, StackRow, read_stack_rows, stack, stack_faults
from packseq.scenario.tables import Shape, Table, read_table
from packseq.scenario.walkround.entered import read_layout
from packseq.scenario.walkround.rows import LAYOUT_SHAPE


def read_scenario(folder: Path, *, packs_needed: bool = True) -> Scenario:
    """Read and check a scenario folder, as docs/files.md describes it.

    Without `packs_needed`, packs.csv may be missing or hold a header alone: nothing is loaded yet.

    The frames come from frames.csv or layout.csv; all tables may be sheets of tables.xlsx. Names are
    matched across files after trimming and ignoring case; frames keep the spelling of their own file,
    packs and spots that of site.toml.

    Raises
    ------
    InputError
        With every fault of every file; a file that cannot be read hides no fault of another.
    """
    files = read_folder(folder, packs_needed=packs_needed)
    walked = files.frames_file == LAYOUT
    frame_table = _table(files, LAYOUT_SHAPE if walked else FRAMES_SHAPE)
    frame_rows, frame_faults = read_layout(frame_table) if walked else read_frame_rows(frame_table)
    known = _known(frame_rows, complete=frame_table.complete)

    opening_rows, opening_faults = read_opening_rows(_table(files, OPENINGS_SHAPE), known.names)
    openings = openings_by_frame(opening_rows)

    site_read = read_site(files.text.get(SITE), known)
    pack_table = _table(files, PACKS_SHAPE)
    stack_rows, row_faults = read_stack_rows(pack_table, known.names)
    stacked = pack_table.complete and (packs_needed or bool(pack_table.rows))

    faults = (
        *files.faults,
        *frame_faults,
        *opening_faults,
        *fit_faults(frame_rows, openings),
        *site_read.faults,
        *row_faults,
        *stack_faults(stack_rows, known, site_read.packs, site_read.pack_names, complete=stacked),
    )
    if faults or site_read.site is None:
        told = [replace(fault, file=files.told(fault.file)) for fault in sorted(faults, key=_place)]
        raise InputError(told)
    frames = _frames(frame_rows, openings, files.told(files.frames_file))
    return _scenario(site_read.site, frames, stack_rows, files.sha256)


def _table(files: FolderText, shape: Shape) -> Table:
    text = files.text.get(shape.file)
    if text is None:
        return Table(shape.file, complete=shape.file in files.absent)
    return read_table(text, shape)


def _known(rows: Sequence[FrameRow], *, complete: bool) -> KnownFrames:
    names = KnownNames.of(
        "frame", (row.name for row in rows), complete=complete and all(row.name for row in rows)
    )
    levels: dict[str, int] = {}
    for row in rows:
        name = names.find(row.name)
        if name is not None and row.level is not None:
            levels.setdefault(name, row.level)
    return KnownFrames(names, levels)


def _place(fault: Fault) -> tuple[int, int]:
    """Sort faults by file as they are read, then by row."""
    return FILES.index(fault.file), fault.row or 0


def _frames(
    rows: Sequence[FrameRow], openings: Mapping[str, Sequence[OpeningRow]], file: str
) -> Mapping[str, Frame]:
    made = (row.frame(tuple(own.opening for own in openings.get(row.name, ())), file) for row in rows)
    return MappingProxyType({frame.name: frame for frame in made if frame is not None})


def _scenario(
    site: Site, frames: Mapping[str, Frame], stack_rows: Sequence[StackRow], sha256: str
) -> Scenario:
    landings = {table.name: table.landing() for table in site.pack}
    packs = (stack(landing, stack_rows, frames) for landing in landings.values())
    spots = (table.spot() for table in site.spot)
    return Scenario(
        name=site.name,
        slab=site.slab.outline_mm,
        frames=frames,
        packs=MappingProxyType({pack.name: pack for pack in packs if pack is not None}),
        crew=site.crew.crew(),
        spots=MappingProxyType({spot.name: spot for spot in spots}),
        gaps=tuple(table.between for table in site.gap),
        no_go=tuple(table.outline_mm for table in site.no_go),
        stand=site.stand.choices(),
        rates=site.time.rates(),
        join_gap_mm=site.join_gap_mm,
        clearance_mm=site.clearance_mm,
        sha256=sha256,
        landings=MappingProxyType(landings),
        load=site.load.limits(),
        decks=tuple(table.deck() for table in site.deck),
    )
