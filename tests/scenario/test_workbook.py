"""tables.xlsx: the tables as sheets, and what a spreadsheet may do to them."""

from __future__ import annotations

import datetime as dt
import io
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from square_room import SOUND_FILES, write_scenario
from walks import ROOMS

from packseq.errors import InputError
from packseq.scenario.read import read_scenario
from packseq.scenario.workbook import INSTALL_XLSX

Change = Callable[[openpyxl.Workbook], object]


def value(cell: str) -> str | float | None:
    """Return a cell as a spreadsheet holds it: numbers as numbers."""
    try:
        return float(cell)
    except ValueError:
        return cell or None


def workbook(change: Change | None = None, tables: dict[str, str] | None = None) -> bytes:
    """Return the sound tables as the bytes of a workbook, something in it changed."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, text in (tables or SOUND_FILES).items():
        if name.endswith(".csv"):
            sheet = book.create_sheet(name.removesuffix(".csv"))
            for line in text.splitlines():
                sheet.append([value(cell) for cell in line.split(",")])
    if change is not None:
        change(book)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def job(tmp_path: Path, content: bytes) -> Path:
    changed = {"frames.csv": None, "openings.csv": None, "packs.csv": None, "tables.xlsx": content}
    return write_scenario(tmp_path, changed)


def lines_of(folder: Path) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_scenario(folder)
    return list(caught.value.lines)


def test_the_tables_may_be_sheets(tmp_path: Path) -> None:
    book = read_scenario(job(tmp_path, workbook()))
    plain = read_scenario(write_scenario(tmp_path))
    assert dict(book.packs) == dict(plain.packs)
    for name, frame in plain.frames.items():
        assert book.frames[name].footprint == frame.footprint
        assert book.frames[name].openings == frame.openings
        assert book.frames[name].mass_kg == frame.mass_kg
    assert book.sha256 != plain.sha256


def test_a_house_may_be_walked_in_a_sheet(tmp_path: Path) -> None:
    names = ("E1", "E2", "E3", "E4", "N1", "N2")
    packs = "pack,layer,frame\n" + "".join(f"A,{layer},{name}\n" for layer, name in enumerate(names, start=1))
    site = SOUND_FILES["site.toml"].split("[[pack]]")[0] + '[[pack]]\nname = "A"\nat_mm = [0, -3000]\n'
    folder = write_scenario(
        tmp_path,
        {
            "site.toml": site,
            "frames.csv": None,
            "openings.csv": None,
            "packs.csv": None,
            "tables.xlsx": workbook(tables={"layout.csv": ROOMS, "packs.csv": packs}),
        },
    )
    frame = read_scenario(folder).frames["N2"]
    assert (frame.start, frame.end) == ((2100, 2350), (5900, 2350))
    assert frame.file == "tables.xlsx, sheet layout"


def test_a_fault_names_the_sheet_and_its_row(tmp_path: Path) -> None:
    def spoil(book: openpyxl.Workbook) -> None:
        book["frames"]["G3"] = "tall"

    assert lines_of(job(tmp_path, workbook(spoil))) == [
        "tables.xlsx, sheet frames, row 3, column height_mm, frame East: 'tall' is not a number"
    ]


def test_other_sheets_are_left_alone_and_their_names_may_have_capitals(tmp_path: Path) -> None:
    def rename(book: openpyxl.Workbook) -> None:
        book["frames"].title = "x"
        book["x"].title = "Frames"
        book.create_sheet("notes").append(["=1+1", "anything"])

    assert read_scenario(job(tmp_path, workbook(rename))).frames


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (
            lambda book: book["frames"].__setitem__("C2", "=1+1"),
            "tables.xlsx, sheet frames, row 2, column C: holds a formula; paste its value in its place",
        ),
        (
            lambda book: book["frames"].__setitem__("C2", dt.date(2024, 5, 1)),
            (
                "tables.xlsx, sheet frames, row 2, column C: holds a date or time (2024-05-01 00:00:00); "
                "format the cell as text or number and type it again"
            ),
        ),
        (
            lambda book: book["frames"].__setitem__("C2", True),
            (
                "tables.xlsx, sheet frames, row 2, column C: holds a yes-or-no value; "
                "type it again as text or number"
            ),
        ),
        (
            lambda book: book["frames"].__setitem__("C2", "#REF!"),
            "tables.xlsx, sheet frames, row 2, column C: holds the error #REF!",
        ),
        (
            lambda book: book["packs"].merge_cells("A2:A3"),
            "tables.xlsx, sheet packs: cells A2:A3 are merged; unmerge them, so that each has its own value",
        ),
        (
            lambda book: setattr(book["packs"], "sheet_state", "hidden"),
            "tables.xlsx, sheet packs: the sheet is hidden; show it, so that what is read is what you see",
        ),
        (
            lambda book: setattr(book["packs"].row_dimensions[3], "hidden", True),
            "tables.xlsx, sheet packs, row 3: the row is hidden; show it or delete it",
        ),
        (
            lambda book: setattr(book["packs"].column_dimensions["B"], "hidden", True),
            "tables.xlsx, sheet packs: column B is hidden; show it or delete it",
        ),
        (
            lambda book: book["packs"].__setitem__("A1048576", "x"),
            (
                "tables.xlsx, sheet packs: has cells down to row 1048576 and across to column 3; at most "
                "6000 rows and 50 columns are read: delete the rows and columns outside the table"
            ),
        ),
        (
            lambda book: book.remove(book["packs"]),
            "tables.xlsx: has no sheet named packs",
        ),
        (
            lambda book: book.create_sheet("layout"),
            "tables.xlsx: has the sheets frames and layout; keep one of the two",
        ),
    ],
)
def test_what_a_spreadsheet_may_do(change: Change, expected: str, tmp_path: Path) -> None:
    assert expected in lines_of(job(tmp_path, workbook(change)))


def zipped(parts: dict[str, bytes]) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return stream.getvalue()


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"", "cannot be read as a workbook (File is not a zip file)"),
        (b"frame,level\n", "cannot be read as a workbook (File is not a zip file)"),
        (workbook()[:3000], "cannot be read as a workbook (File is not a zip file)"),
        (b"\xd0\xcf\x11\xe0" + b"\0" * 600, "is an old .xls workbook, or one with a password"),
        (zipped({"readme.txt": b"hello"}), "cannot be read as a workbook (KeyError)"),
        (zipped({f"part{number}": b"" for number in range(501)}), "unpacks to 0 bytes in 501 parts"),
        (zipped({"bomb": b"\0" * 11_000_000}), "unpacks to 11,000,000 bytes in 1 parts"),
        (
            zipped({"xl/workbook.xml": b'<!DOCTYPE lolz [<!ENTITY a "aa">]><a/>'}),
            "holds a document type in 'xl/workbook.xml', which no spreadsheet writes",
        ),
    ],
)
def test_what_is_no_workbook(content: bytes, expected: str, tmp_path: Path) -> None:
    (line,) = [line for line in lines_of(job(tmp_path, content)) if line.startswith("tables.xlsx: ")]
    assert expected in line


def test_a_bomb_that_lies_about_its_size_is_not_unpacked(tmp_path: Path) -> None:
    honest = zipped({"bomb": b"\0" * 11_000_000})
    # The size unpacked stands, four bytes long, in the part's own header and in the directory.
    lying = honest.replace((11_000_000).to_bytes(4, "little"), (100).to_bytes(4, "little"))
    assert lying != honest
    (line,) = [line for line in lines_of(job(tmp_path, lying)) if line.startswith("tables.xlsx: ")]
    assert "cannot be read as a workbook" in line


def test_a_workbook_that_is_too_big_is_not_opened(tmp_path: Path) -> None:
    lines = lines_of(job(tmp_path, b"x" * 5_000_001))
    assert "tables.xlsx: has 5000001 bytes; at most 5000000 are read" in lines


def test_a_workbook_beside_the_tables_it_stands_for(tmp_path: Path) -> None:
    lines = lines_of(write_scenario(tmp_path, {"tables.xlsx": workbook()}))
    assert lines == [
        f"tables.xlsx: {name} is in the folder too; keep one of the two"
        for name in ("frames.csv", "openings.csv", "packs.csv")
    ]


def test_a_layout_beside_frames(tmp_path: Path) -> None:
    lines = lines_of(write_scenario(tmp_path, {"layout.csv": ROOMS}))
    assert lines == [
        "layout.csv: frames.csv is in the folder too; keep one of the two, as each has every frame"
    ]


def test_without_the_reader_one_line_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(__import__("sys").modules, "openpyxl", None)
    lines = lines_of(job(tmp_path, workbook()))
    assert lines == [f"tables.xlsx: {INSTALL_XLSX}"]
