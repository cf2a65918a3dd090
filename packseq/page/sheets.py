"""Sheets as a page to print or to fill in on a phone: one, or several as a booklet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from packseq.page.cells import cell, headings, kind
from packseq.page.markup import document, listed, tag, text
from packseq.sheet import Column, Part, Picture, Section, Sheet, Table, Tick, Ticks, Words

_STYLES = ("base.css", "sheet.css")
_SCRIPTS = ("keep.js",)

_SHORT_TICK = 40
"""Ticks of no more letters than this stand side by side on paper."""


def sheet_page(sheet: Sheet) -> str:
    """Return one sheet as a self-contained HTML page.

    What is ticked or filled in on a screen is kept by that browser, for that sheet and house.
    """
    title = f"{sheet.title}: {sheet.house}"
    return document(title, tag("main", sheet_markup(sheet, 1)), styles=_STYLES, scripts=_SCRIPTS)


def booklet_page(title: str, house: str, sheets: Sequence[Sheet]) -> str:
    """Return several sheets as one self-contained HTML page, contents first.

    Parameters
    ----------
    title
        What the booklet is.
    house
        The house it is for.
    sheets
        The sheets in order; each begins on a page of its own when printed.
    """
    contents = (
        tag("li", text("a", sheet.title, href=f"#sheet-{number}")) for number, sheet in enumerate(sheets, 1)
    )
    cover = tag(
        "header",
        text("h1", title),
        text("p", house, class_="house"),
        tag("nav", text("h2", "Contents"), tag("ol", *contents), aria_label="Contents"),
        class_="cover",
    )
    body = tag("main", cover, *(sheet_markup(sheet, number) for number, sheet in enumerate(sheets, 1)))
    return document(f"{title}: {house}", body, styles=_STYLES, scripts=_SCRIPTS)


def sheet_markup(sheet: Sheet, number: int) -> str:
    """Return the markup of one sheet; `number` tells its fields from those of other sheets of a page."""
    fields = _Fields(number)
    parts = (
        text("h1", sheet.title),
        text("p", sheet.house, class_="house"),
        cautions_markup(sheet.cautions),
        *(_section(section, fields) for section in sheet.sections),
    )
    return tag("article", *parts, class_="sheet", id=f"sheet-{number}")


def cautions_markup(cautions: Sequence[str]) -> str:
    """Return the box of cautions, or nothing when there are none."""
    if not cautions:
        return ""
    return tag("section", text("h2", "Take care"), listed("ul", cautions), class_="cautions")


def table_markup(table: Table) -> str:
    """Return a table with its headings; columns to fill in are left blank to write on."""
    return _table(table, _Fields(0))


class _Fields:
    """Gives each field to fill in an id of its own, in the order of the page."""

    def __init__(self, sheet: int) -> None:
        self._sheet = sheet
        self._count = 0

    def next(self) -> str:
        self._count += 1
        return f"field-{self._sheet}-{self._count}"


def _section(section: Section, fields: _Fields) -> str:
    parts = (_part(part, fields) for part in section.parts)
    return tag("section", text("h2", section.heading), *parts)


def _part(part: Part, fields: _Fields) -> str:
    match part:
        case Table():
            return _table(part, fields)
        case Words():
            return "".join(text("p", paragraph) for paragraph in part.paragraphs)
        case Ticks():
            return _ticks(part, fields)
        case Picture():
            return tag("figure", part.svg, text("figcaption", part.caption))


def _table(table: Table, fields: _Fields) -> str:
    caption = text("caption", table.title) if table.title else ""
    rows = (tag("tr", *_cells(table.columns, row, fields)) for row in table.rows)
    inner = tag("table", caption, tag("thead", tag("tr", *headings(table.columns))), tag("tbody", *rows))
    # A table wider than a phone scrolls in its box, which can be reached by key; the page never does.
    return tag("div", inner, class_="table", tabindex="0", role="group", aria_label=table.title or "Table")


def _cells(columns: Iterable[Column], row: Iterable[str], fields: _Fields) -> Iterator[str]:
    for column, said in zip(columns, row, strict=True):
        if column.to_fill_in and not said:
            field = tag("input", id=fields.next(), aria_label=column.heading, size="8", autocomplete="off")
            yield tag("td", field, class_=kind(column))
        else:
            yield cell(column, said)


def _ticks(ticks: Ticks, fields: _Fields) -> str:
    title = text("h3", ticks.title) if ticks.title else ""
    short = all(len(item.text) <= _SHORT_TICK and not item.to_measure for item in ticks.items)
    classes = "ticks short" if short else "ticks"
    return title + tag("ol", *(_tick(item, fields) for item in ticks.items), class_=classes)


def _tick(item: Tick, fields: _Fields) -> str:
    box = tag("label", tag("input", type="checkbox", id=fields.next()), text("span", item.text))
    measured = (
        tag(
            "label",
            tag("input", id=fields.next(), inputmode="decimal", autocomplete="off"),
            text("span", unit),
            class_="measured",
        )
        for unit in item.to_measure
    )
    return tag("li", box, *measured)
