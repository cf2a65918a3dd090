from __future__ import annotations

import re

from markup_reading import Seen

from packseq.page.sheets import booklet_page, sheet_page
from packseq.sheet import Column, Picture, Section, Sheet, Table, Tick, Ticks, Words

HOSTILE = "<img src=x onerror=alert(1)>"
TABLE = Table(
    (Column("line"), Column("mm", number=True), Column("measured", to_fill_in=True)),
    (("A", "12 000", ""), (HOSTILE, "=cmd()", "")),
    "Lines",
)
SHEET = Sheet(
    "Set-out",
    "a house",
    ("Mind the edge.", HOSTILE),
    (
        Section("Before", (Words(("One.", "Two.")), Ticks((Tick("Measure", ("mm", "mm")), Tick("Sweep"))))),
        Section("Lines", (TABLE, Picture("<svg><title>x</title></svg>", "The slab"))),
    ),
)


def test_a_sheet_shows_its_cautions_first_and_all_that_it_says() -> None:
    seen = Seen(sheet_page(SHEET))
    order = [
        "Set-out",
        "Take care",
        "Mind the edge.",
        "One.",
        "Two.",
        "Measure",
        "Sweep",
        "12 000",
        "The slab",
    ]
    places = [seen.said.index(each, 1 if each == "Set-out" else 0) for each in order]
    assert places == sorted(places)
    assert seen.names.count("th") == 3
    # Two ticks, two values to measure, two cells to fill in.
    ids = [attributes.get("id") for name, attributes in seen.elements if name == "input"]
    assert len(ids) == len(set(ids)) == 6


def test_hostile_words_stay_words() -> None:
    seen = Seen(sheet_page(SHEET))
    assert "img" not in seen.names
    assert seen.said.count(HOSTILE) == 2
    assert "=cmd()" in seen.said


def test_a_page_names_nothing_outside_itself() -> None:
    page = sheet_page(SHEET)
    seen = Seen(page)
    assert not [attributes for _, attributes in seen.elements if {"src", "srcset"} & set(attributes)]
    assert all(str(each.get("href", "#")).startswith("#") for _, each in seen.elements)
    assert not re.search(r"url\(|@import|fetch\(|XMLHttpRequest", page)
    policy = next(each["content"] for name, each in seen.elements if name == "meta" and "http-equiv" in each)
    assert policy is not None
    assert policy.startswith("default-src 'none'")


def test_a_booklet_begins_with_its_contents() -> None:
    seen = Seen(booklet_page("The job", "a house", [SHEET, SHEET]))
    links = [each["href"] for name, each in seen.elements if name == "a"]
    assert links == ["#sheet-1", "#sheet-2"]
    ids = [each["id"] for _, each in seen.elements if each.get("id")]
    assert {"sheet-1", "sheet-2"} <= set(ids)
    assert len(ids) == len(set(ids))
