from __future__ import annotations

from garden import shown

from packseq.report.sheets import TO_FILL_IN, sheet_tables
from packseq.sheet import Column, Picture, Section, Sheet, Table, Tick, Ticks, Words


def sheet(*parts: Table | Words | Ticks | Picture, cautions: tuple[str, ...] = ()) -> Sheet:
    return Sheet("Slab", "garden room", cautions, (Section("First", parts),))


def test_cautions_come_before_anything_else() -> None:
    text = shown(sheet_tables(sheet(Words(("Begin.",)), cautions=("Mind the edge.",))))
    assert text.splitlines() == ["Slab: garden room", "Cautions", "- Mind the edge.", "First", "Begin."]


def test_a_sheet_without_cautions_has_no_heading_for_them() -> None:
    assert "Cautions" not in shown(sheet_tables(sheet(Words(("Begin.",)))))


def test_numbers_are_flush_right_and_blanks_are_there_to_fill_in() -> None:
    columns = (Column("line"), Column("mm", number=True), Column("measured", to_fill_in=True))
    table = Table(columns, (("A", "100", ""), ("B", "12000", "11998")), title="Distances")
    lines = shown(sheet_tables(sheet(table))).splitlines()
    assert lines[2:4] == ["Distances", "line mm measured"]
    assert lines[5:] == [f"A 100 {TO_FILL_IN}", "B 12000 11998"]


def test_ticks_have_a_box_and_room_for_what_is_measured() -> None:
    ticks = Ticks((Tick("Snap the line."), Tick("Measure.", ("diagonal, mm", "side, mm"))), title="To do")
    lines = shown(sheet_tables(sheet(ticks))).splitlines()
    assert lines[2:] == [
        "To do",
        "[ ] Snap the line.",
        f"[ ] Measure. diagonal, mm {TO_FILL_IN} side, mm {TO_FILL_IN}",
    ]


def test_a_drawing_is_named_by_its_caption() -> None:
    text = shown(sheet_tables(sheet(Picture("<svg/>", "the lines to mark"))))
    assert "the lines to mark" in text
    assert "svg" not in text


def test_nothing_in_a_sheet_is_read_as_markup() -> None:
    assert "[bold]A[/bold]" in shown(sheet_tables(sheet(Words(("[bold]A[/bold]",)))))
