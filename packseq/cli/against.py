"""The delivered packs against the best load, for ``packseq compare``."""

from __future__ import annotations

import threading
from dataclasses import dataclass, field
from typing import Any

from packseq.cli.bestload import best_load_planned
from packseq.errors import PackseqError
from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.sheet import Section, Words
from packseq.standup.progress import Listener

TITLE = "The packs as delivered against the best load"
SHARE = 0.5
"""Share of the time for the best load; the rest is for changes to the delivered packs."""


@dataclass(frozen=True)
class Against:
    """What is shown of it, and the same as plain data: why not, where there is no load."""

    section: Section
    document: dict[str, Any] = field(default_factory=dict)


def against_best_load(
    house: House, plan: Plan, limit_s: float, listener: Listener, stop: threading.Event
) -> Against:
    """Return how the packs as delivered, stood by a plan, compare with the best load.

    Where no load keeps the limits of ``[load]``, or none was found in time, that is said instead.
    """
    from packseq.loading.changes import fewest_changes  # noqa: PLC0415 - the solver is slow to load
    from packseq.loading.delivered import delivered_document, delivered_section  # noqa: PLC0415
    from packseq.loading.document import load_document  # noqa: PLC0415

    try:
        best = best_load_planned(house, SHARE * limit_s, 0, listener, stop).best
    except PackseqError as error:
        why = "; ".join(map(str, error.args))
        return Against(Section(TITLE, (Words((f"No load to compare with: {why}.",)),)), {"none": why})
    changes = fewest_changes(house, plan, best, limit_s=(1 - SHARE) * limit_s, stop=stop)
    document = {"best": load_document(best, (), None)["stages"], "delivered": delivered_document(changes)}
    return Against(delivered_section(changes, best), document)
