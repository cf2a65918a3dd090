"""The scenario folder that the site plans from: the same site with the new packs."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from pathlib import Path

from packseq.plan.load import LaidPack
from packseq.scenario.files import PACKS, TABLE_FILES, TABLES, read_folder

MOST_OTHER_BYTES = 2_000_000
"""Other tables of the folder are taken along up to this size, as tables are read up to it."""


def loaded_folder(folder: Path, packs: Sequence[LaidPack]) -> Mapping[str, str | bytes]:
    """Return the files of a scenario folder with other packs, by name.

    Tables of a workbook come as files of their own. Other ``.csv`` files in the folder, such as readings
    of the slab, are taken along as they are; plans are not: they belong to the packs they were made for.

    Raises
    ------
    InputError
        When the folder cannot be read any more.
    """
    text = read_folder(folder, packs_needed=False).text
    others = {
        path.name: path.read_bytes()
        for path in sorted(folder.glob("*.csv"))
        if path.name not in TABLE_FILES and path.is_file() and path.stat().st_size <= MOST_OTHER_BYTES
    }
    tables = {name: content for name, content in text.items() if name not in (PACKS, TABLES)}
    return {**others, **tables, PACKS: packs_csv(packs)}


def packs_csv(packs: Sequence[LaidPack]) -> str:
    """Return the text of packs.csv: layer 1 on top, frames of a layer in order along the pack."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(("pack", "layer", "frame"))
    for pack in packs:
        for number, layer in enumerate(pack.layers, 1):
            writer.writerows((pack.name, number, name) for name in layer.frames)
    return stream.getvalue()
