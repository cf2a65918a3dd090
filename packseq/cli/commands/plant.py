"""At the plant: which frame goes in which pack."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packseq.cli.options import AsJson, Folder, Force, Limit, Seed


def load(
    folder: Folder,
    *,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            metavar="FOLDER",
            help="Write the scenario with the new packs here, and the loading sheet.",
        ),
    ] = None,
    limit_s: Limit = 60.0,
    seed: Seed = 0,
    changes: Annotated[
        bool,
        typer.Option(
            "--changes",
            help="Also the fewest changes to the packs as delivered. Takes as long again as the search.",
        ),
    ] = False,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Load the packs so that the fewest frames are lifted twice.

    Which frame goes in which pack, layer by layer, within the limits of [load] in site.toml: fewest
    extra lifts, then fewest packs, then least walking. packs.csv need not be there yet.
    """
    from packseq.cli.loading import LoadOrder, load_scenario  # noqa: PLC0415

    order = LoadOrder(folder, out, limit_s=limit_s, seed=seed, changes=changes, force=force)
    load_scenario(order, as_json=as_json)
