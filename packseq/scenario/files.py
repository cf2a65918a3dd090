"""The bytes of a scenario folder: which files are read, how, and their fingerprint."""

from __future__ import annotations

import codecs
import hashlib
import os
import stat
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from packseq.errors import Fault, InputError
from packseq.scenario.limits import MOST_SITE_BYTES, MOST_TABLE_BYTES, MOST_WORKBOOK_BYTES
from packseq.scenario.workbook import read_workbook

SITE = "site.toml"
FRAMES = "frames.csv"
LAYOUT = "layout.csv"
OPENINGS = "openings.csv"
PACKS = "packs.csv"
TABLES = "tables.xlsx"
FILES = (SITE, FRAMES, LAYOUT, OPENINGS, PACKS, TABLES)
TABLE_FILES = (FRAMES, LAYOUT, OPENINGS, PACKS)
OPTIONAL_FILES = frozenset({OPENINGS})
_MOST_BYTES = {SITE: MOST_SITE_BYTES, TABLES: MOST_WORKBOOK_BYTES}
_MISSING = {FRAMES: f"is not in the folder, and neither is {LAYOUT} or {TABLES}"}


@dataclass(frozen=True, slots=True)
class FolderText:
    """What a folder holds: the text of each file that could be read, with plain line feeds.

    The sheets of a workbook count as the files of the same names. `frames_file` is the file that
    has the frames, `absent` are the optional files that are not there. `sha256` covers the exact
    bytes read.
    """

    text: Mapping[str, str]
    absent: frozenset[str]
    sha256: str
    faults: tuple[Fault, ...]
    frames_file: str
    in_workbook: bool

    def told(self, name: str) -> str:
        """Return how a fault calls a file: a sheet of the workbook, if its table comes from there."""
        if not self.in_workbook or name not in TABLE_FILES:
            return name
        return f"{TABLES}, sheet {name.removesuffix('.csv')}"


def read_folder(folder: Path, *, packs_needed: bool = True) -> FolderText:
    """Read every file of a scenario folder; without `packs_needed`, packs.csv is optional too.

    Raises
    ------
    InputError
        When there is no such folder, or it cannot be looked into. What is wrong with a
        file comes back in `FolderText.faults`.
    """
    try:
        found = folder.is_dir()
    except OSError as error:
        raise InputError([Fault(str(folder), f"cannot be looked into: {error.strerror}")]) from error
    if not found:
        what = "is a file, not a scenario folder" if folder.is_file() else "there is no such folder"
        raise InputError([Fault(str(folder), what)])

    there = {name for name in FILES if os.path.lexists(folder / name)}
    in_workbook = TABLES in there
    frames_file = LAYOUT if LAYOUT in there and FRAMES not in there else FRAMES
    optional = OPTIONAL_FILES if packs_needed else OPTIONAL_FILES | {PACKS}
    contents: dict[str, bytes] = {}
    text: dict[str, str] = {}
    absent: set[str] = set()
    faults = list(_twice_told(there))
    for name in (SITE, TABLES) if in_workbook else (SITE, frames_file, OPENINGS, PACKS):
        try:
            contents[name] = _bytes_of(folder / name)
            if name != TABLES:
                text[name] = _decode(contents[name])
        except FileNotFoundError:
            if name in optional:
                absent.add(name)
            else:
                faults.append(Fault(name, _MISSING.get(name, "is not in the folder")))
        except OSError as error:
            faults.append(Fault(name, f"cannot be read: {error.strerror}"))
        except _UnreadableError as error:
            faults.append(Fault(name, error.text, row=error.line))
    if TABLES in contents:
        needed = ((FRAMES, LAYOUT), (PACKS,)) if packs_needed else ((FRAMES, LAYOUT),)
        book = read_workbook(contents[TABLES], TABLES, TABLE_FILES, needed=needed)
        text |= book.text
        absent |= optional - set(book.text)
        faults += book.faults
        frames_file = LAYOUT if LAYOUT in book.text and FRAMES not in book.text else FRAMES
    return FolderText(text, frozenset(absent), fingerprint(contents), tuple(faults), frames_file, in_workbook)


def _twice_told(there: set[str]) -> Iterator[Fault]:
    """Tell which files say what another one says already."""
    if TABLES in there:
        for name in TABLE_FILES:
            if name in there:
                yield Fault(TABLES, f"{name} is in the folder too; keep one of the two")
    elif {FRAMES, LAYOUT} <= there:
        yield Fault(LAYOUT, f"{FRAMES} is in the folder too; keep one of the two, as each has every frame")


def read_text(path: Path) -> str:
    """Read one more table of people's own, such as measured values, as the folder's files are read.

    Raises
    ------
    InputError
        When it is not there, cannot be read, or is no UTF-8 text.
    """
    try:
        return _decode(_bytes_of(path))
    except OSError as error:
        missing = isinstance(error, FileNotFoundError)
        text = "there is no such file" if missing else f"cannot be read: {error.strerror}"
        raise InputError([Fault(path.name, text)]) from error
    except _UnreadableError as error:
        raise InputError([Fault(path.name, error.text, row=error.line)]) from error


def fingerprint(contents: Mapping[str, bytes]) -> str:
    """Return the SHA-256 of files: for each, in the order of `FILES`, its name, length and bytes.

    Name and length go in before the bytes, so that no two folders share a fingerprint by
    moving text from the end of one file to the beginning of the next.
    """
    digest = hashlib.sha256()
    for name in FILES:
        if name in contents:
            digest.update(f"{name}\0{len(contents[name])}\0".encode())
            digest.update(contents[name])
    return digest.hexdigest()


class _UnreadableError(Exception):
    """A file that is no text, and the line where that shows."""

    def __init__(self, text: str, line: int | None = None) -> None:
        super().__init__(text)
        self.text = text
        self.line = line


def _bytes_of(path: Path) -> bytes:
    status = path.stat()
    if not stat.S_ISREG(status.st_mode):
        raise _UnreadableError("is not a file")
    most = _MOST_BYTES.get(path.name, MOST_TABLE_BYTES)
    if status.st_size > most:
        raise _UnreadableError(f"has {status.st_size} bytes; at most {most} are read")
    return path.read_bytes()


def _decode(content: bytes) -> str:
    """Return the text of a file: UTF-8, byte-order mark dropped, line ends made line feeds."""
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise _UnreadableError("is UTF-16; save it as UTF-8")
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        before = _plain_line_ends(content[: error.start].decode("utf-8"))
        raise _UnreadableError(
            f"byte {error.start + 1} (0x{content[error.start]:02x}) is not UTF-8; save the file as UTF-8",
            before.count("\n") + 1,
        ) from error
    text = _plain_line_ends(text.removeprefix("\ufeff"))
    before, null, _ = text.partition("\0")
    if null:
        raise _UnreadableError("holds a NUL character; is it a text file?", before.count("\n") + 1)
    return text


def _plain_line_ends(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")
