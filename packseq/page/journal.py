"""The journal's part of the page: noting what happened, and the file it is kept in."""

from __future__ import annotations

from collections.abc import Iterable

from packseq.check import Replay
from packseq.page.markup import tag, text

_EVENTS = (
    ("stood", "Frame stands"),
    ("set aside", "Frame set aside"),
    ("missing", "Frame missing"),
    ("damaged", "Frame damaged"),
    ("found", "Frame found somewhere else"),
    ("landed", "Pack lies somewhere else"),
    ("crew", "Crew has changed"),
)
"""What can be noted, and how it is said."""

_NOTE_LENGTH = "200"


def journal_view(done: Replay) -> str:
    """Return the form to note an event, the list of what was noted, and the file buttons."""
    note = text(
        "p",
        "What happens is noted here and kept on this phone or computer. Save it as a file at each break: "
        "a browser may lose it.",
    )
    unkept = text(
        "p",
        "This browser keeps nothing for this page: save the journal before you close it.",
        id="unkept",
        class_="warning",
        hidden=True,
    )
    buttons = tag(
        "p",
        text("button", "Save journal", type="button", id="save"),
        tag(
            "label",
            text("span", "Load a journal"),
            tag("input", type="file", id="load", accept=".jsonl,.json,.txt"),
        ),
        class_="files",
    )
    told = tag("p", id="told", role="status")
    noted = tag("ol", id="lines", class_="lines")
    inner = (note, unkept, _form(done), told, buttons, text("h3", "Noted so far"), noted)
    return tag("div", *inner, class_="scripted screen") + text(
        "p", "The journal is kept on the phone; see the file it saves.", class_="paper"
    )


def _form(done: Replay) -> str:
    house = done.job.house
    heaps = [str(heap) for heap in done.job.beginning.heaps]
    packs = [f"pack {name}" for name in house.scenario.packs]
    fields = (
        _field("what", "What happened", _select("what", _EVENTS)),
        _field("frame", "Frame", _select("frame", _same(house.scenario.frames))),
        _field("to", "Where it was put", _select("to", _same(heaps))),
        _field("in", "Where it lies", _select("in", _same(heaps))),
        _field("layer", "In layer", _number("layer", "1", "1", "1000")),
        _field("pack", "Pack", _select("pack", _same(packs))),
        _field("x", "Centre x, mm", _number("x", "0", "-100000000", "100000000")),
        _field("y", "Centre y, mm", _number("y", "0", "-100000000", "100000000")),
        _field("bearing", "Long side turned, degrees", _number("bearing", "0", "-360", "360")),
        _field("people", "People now", _number("people", str(house.scenario.crew.people), "1", "100")),
        _field("note", "Remark (may be left empty)", tag("input", id="f-note", maxlength=_NOTE_LENGTH)),
    )
    return tag("form", *fields, text("button", "Note it", type="submit"), id="form")


def _same(names: Iterable[str]) -> tuple[tuple[str, str], ...]:
    return tuple((name, name) for name in names)


def _field(name: str, label: str, control: str) -> str:
    return tag("p", text("label", label, for_=f"f-{name}"), control, data_field=name)


def _select(name: str, options: Iterable[tuple[str, str]]) -> str:
    return tag("select", *(text("option", said, value=value) for value, said in options), id=f"f-{name}")


def _number(name: str, value: str, lowest: str, highest: str) -> str:
    return tag(
        "input", id=f"f-{name}", type="number", value=value, min=lowest, max=highest, inputmode="decimal"
    )
