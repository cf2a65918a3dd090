from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from day_houses import AT, busy_room, line, names, text

from packseq.day.events import Damaged, Event, Found, InHeap, OnHeap, SetAside, Stood, said
from packseq.day.journal import Journal, append, counting, line_text, read_journal
from packseq.errors import InputError, OutputError

DOCS = Path(__file__).parents[2] / "docs"
EVENTS: tuple[Event, ...] = (
    SetAside(at=AT, frame="W1", to=OnHeap(spot="P")),
    SetAside(at=AT, frame="W2", to=OnHeap(pack="B")),
    Stood(at=AT, frame="S1"),
    Damaged(at=AT, frame="E1", note="Stütze gespalten"),
    Found(at=AT, frame="N1", where=InHeap(pack="A", layer=7)),
)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "day.jsonl"


def read(file: Path) -> Journal:
    return read_journal(file, names(busy_room()))


def events(journal: Journal) -> list[Event]:
    return [noted.event for noted in journal.lines]


def faults(file: Path) -> list[str]:
    return [str(fault) for fault in read(file).faults]


def test_a_journal_that_is_not_there_is_empty(file: Path) -> None:
    assert read(file) == Journal()


def test_what_is_appended_is_read_back(file: Path) -> None:
    for event in EVENTS:
        append(file, event)
    journal = read(file)
    assert events(journal) == list(EVENTS)
    assert [noted.row for noted in journal.lines] == [1, 2, 3, 4, 5]
    assert (journal.faults, journal.torn, journal.remarks) == ((), False, ())


def test_a_line_has_the_documented_form() -> None:
    assert line_text(EVENTS[3]) == (
        f'{{"format":1,"at":"{AT}","event":"damaged","frame":"E1","note":"Stütze gespalten"}}\n'
    )
    assert json.loads(line_text(EVENTS[4]))["in"] == {"pack": "A", "layer": 7}


def test_the_example_in_the_docs_is_sound_but_for_its_names(file: Path) -> None:
    (example,) = re.findall(
        r"```json\n(.*?)```", (DOCS / "journal.md").read_text(encoding="utf-8"), re.DOTALL
    )
    renamed = (
        example.replace("N7", "W1").replace("S1", "P").replace("E12", "E1").replace("E11", "E2")
    ).replace("three-bedroom", "small house")
    file.write_text(renamed, encoding="utf-8")
    journal = read(file)
    assert journal.faults == ()
    assert len(journal.lines) == 6
    assert journal.remarks  # the fingerprint is another one
    assert [said(noted.event) for noted in counting(journal.lines)] == [
        "journal begun for small house",
        "3 people from now on",
        "W1 set aside on spot P",
        "E2 is damaged",
    ]


def test_cut_off_at_any_byte_only_the_line_being_written_is_lost_and_the_next_is_whole(file: Path) -> None:
    whole = "".join(map(line_text, EVENTS)).encode()
    more = Stood(at=AT, frame="S2")
    ends = [end for end in range(len(whole) + 1) if end == 0 or whole[end - 1 : end] == b"\n"]
    for cut in range(len(whole) + 1):
        file.write_bytes(whole[:cut])
        done = sum(end <= cut for end in ends) - 1
        # A line that lacks nothing but its end counts.
        done += whole[cut : cut + 1] == b"\n"
        journal = read(file)
        assert events(journal) == list(EVENTS[:done]), cut
        assert journal.faults == ()
        assert journal.torn == (cut not in ends and whole[cut : cut + 1] != b"\n")
        append(file, more)
        after = read(file)
        assert events(after) == [*EVENTS[:done], more], cut
        assert not after.torn
        assert len(after.faults) == journal.torn


def test_every_bad_line_is_told_with_its_row_and_the_others_count(file: Path) -> None:
    file.write_text(
        text([line("stood", frame="S1")])
        + "not json\n"
        + "[1]\n"
        + text(
            [
                line("stood", frame="S9"),
                line("stood", frame="S2", to={"spot": "P"}),
                line("fell over", frame="S2"),
                line("set aside", frame="W1", to={"spot": "P", "pack": "B"}),
                line("set aside", frame="W1", to={"spot": "Q"}),
                line("found", frame="W1", where={"pack": "A"}),
                line("landed", pack="A", at_mm=[1, 2, 3], bearing_deg=0),
                line("crew", people=0),
                line("undone", what="stood", pack="A"),
                line("stood", frame="S2") | {"at": "yesterday"},
                line("stood", frame="S2") | {"format": 2},
                line("stood", frame=7),
                line("damaged", frame="S2", note="x" * 201),
            ]
        )
        + '{"format": 1, "at": NaN}\n'
        + "[" * 100_000
        + "\n"
        + text([line("stood", frame="S2")]),
        encoding="utf-8",
    )
    journal = read(file)
    assert events(journal) == [Stood(at=AT, frame="S1"), Stood(at=AT, frame="S2")]
    assert [fault.row for fault in journal.faults] == list(range(2, 19))
    told = [fault.text for fault in journal.faults]
    assert told[0] == "is not one sound JSON object; the line is left out"
    assert told[2].startswith("there is no frame 'S9'")
    assert told[3].startswith("to is not a field of this event")
    assert told[4].startswith("its event is not known")
    assert told[9].startswith("people must be at least 1")


def test_not_text_at_all_is_told(file: Path) -> None:
    file.write_bytes(b"\xff\xfe\n" + line_text(EVENTS[0]).encode())
    assert len(faults(file)) == 1
    assert events(read(file)) == [EVENTS[0]]


def test_a_journal_saved_elsewhere_may_have_a_mark_in_front_and_other_line_ends(file: Path) -> None:
    file.write_bytes(b"\xef\xbb\xbf" + line_text(EVENTS[0]).encode().replace(b"\n", b"\r\n\r\n"))
    assert events(read(file)) == [EVENTS[0]]


def test_the_journal_of_another_house_is_refused(file: Path) -> None:
    file.write_text(text([line("begun", scenario="big house", scenario_sha256="ab12")]), encoding="utf-8")
    with pytest.raises(InputError, match="another house: 'big house'"):
        read(file)


def test_a_file_too_large_to_be_a_journal_is_refused(file: Path) -> None:
    file.write_bytes(b" " * 5_000_001)
    with pytest.raises(InputError, match="larger than 5 MB"):
        read(file)


def test_a_thousand_bad_lines_are_told_in_few_words(file: Path) -> None:
    file.write_text("x\n" * 1000, encoding="utf-8")
    assert len(faults(file)) == 101
    assert faults(file)[-1] == "day.jsonl: 900 more lines are left out"


def test_a_folder_is_no_journal(tmp_path: Path) -> None:
    with pytest.raises(InputError):
        read(tmp_path)
    with pytest.raises(OutputError):
        append(tmp_path, EVENTS[0])


def test_undone_takes_back_the_last_such_line_only(file: Path) -> None:
    lines = [
        line("stood", frame="S1"),
        line("missing", frame="S1"),
        line("stood", frame="S1"),
        line("undone", what="stood", frame="S1"),
        line("undone", what="crew"),
    ]
    file.write_text(text(lines), encoding="utf-8")
    assert [noted.row for noted in counting(read(file).lines)] == [1, 2]
