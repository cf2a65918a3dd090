"""The bytes of a scenario folder: which files are read, how, and their fingerprint."""

from __future__ import annotations

import codecs
import hashlib
import stat
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from packseq.errors import Fault, InputError
from packseq.scenario.limits import MOST_SITE_BYTES, MOST_TABLE_BYTES

SITE = "site.toml"
FRAMES = "frames.csv"
OPENINGS = "openings.csv"
PACKS = "packs.csv"
FILES = (SITE, FRAMES, OPENINGS, PACKS)
OPTIONAL_FILES = frozenset({OPENINGS})


@dataclass(frozen=True, slots=True)
class FolderText:
    """What a folder holds: the text of each file that could be read, with plain line feeds.

    `absent` are the optional files that are not there. `sha256` covers the exact bytes read.
    """

    text: Mapping[str, str]
    absent: frozenset[str]
    sha256: str
    faults: tuple[Fault, ...]


def read_folder(folder: Path) -> FolderText:
    """Read every file of a scenario folder.

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

    contents: dict[str, bytes] = {}
    text: dict[str, str] = {}
    absent: set[str] = set()
    faults: list[Fault] = []
    for name in FILES:
        try:
            contents[name] = _bytes_of(folder / name)
            text[name] = _decode(contents[name])
        except FileNotFoundError:
            if name in OPTIONAL_FILES:
                absent.add(name)
            else:
                faults.append(Fault(name, "is not in the folder"))
        except OSError as error:
            faults.append(Fault(name, f"cannot be read: {error.strerror}"))
        except _UnreadableError as error:
            faults.append(Fault(name, error.text, row=error.line))
    return FolderText(text, frozenset(absent), fingerprint(contents), tuple(faults))


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
    most = MOST_SITE_BYTES if path.name == SITE else MOST_TABLE_BYTES
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
