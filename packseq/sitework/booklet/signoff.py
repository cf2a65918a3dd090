"""The last sheet: what is looked at again, the openings, and the job's papers."""

from __future__ import annotations

from packseq.house.model import House
from packseq.sheet import Column, Section, Sheet, Table, Tick, Ticks
from packseq.sitework.cautions import BRACING, DEFERRAL, FIXING, NO_FIGURE_DECIDES

TITLE = "Final check and sign-off"

_LOOK = (
    Tick("Corners plumb both ways, now that everything is nailed", ("worst out mm",)),
    Tick("Top plates in line on every wall", ("worst gap off mm",)),
    Tick("Studs over studs where a joint or a load comes down"),
    Tick("Nothing cut, notched or split that carries; what is damaged is on the list for the engineer"),
    Tick("Every brace fixed at both ends, none taken out", ("braces standing",)),
)
_PAPERS = (
    Tick("Measured values and what was done about them, as a record file"),
    Tick("Consented fixing schedule, ticked off, with what was delivered"),
    Tick("Changes to the plan and who decided them"),
    Tick("Who may release the braces, and when", ("name",)),
)


def sign_off_sheet(house: House) -> Sheet:
    """Return the sheet."""
    return Sheet(
        TITLE,
        house.scenario.name,
        (BRACING, FIXING, NO_FIGURE_DECIDES, DEFERRAL),
        (
            Section("Look again", (Ticks((*_LOOK, *_gaps(house))),)),
            Section("Doors, windows and openings", (_openings(house),)),
            Section("Papers", (Ticks(_PAPERS),)),
        ),
    )


def _gaps(house: House) -> tuple[Tick, ...]:
    return tuple(
        Tick(f"{first} and {second}, either side of a gap left for later, still braced as free-standing")
        for first, second in house.scenario.gaps
    )


def _openings(house: House) -> Table:
    columns = (
        Column("frame"),
        Column("what"),
        Column("wide mm", number=True),
        Column("bottom mm", number=True, to_fill_in=True),
        Column("top mm", number=True, to_fill_in=True),
        Column("head mm", number=True),
        Column("head is mm", number=True, to_fill_in=True),
    )
    rows = tuple(
        (frame.name, opening.kind, f"{opening.width_mm:.0f}", "", "", f"{opening.head_mm:.0f}", "")
        for frame in house.scenario.frames.values()
        for opening in frame.openings
    )
    return Table(columns, rows, "Openings as framed; heads from the underside of the bottom plate.")
