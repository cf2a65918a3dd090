"""The steps: one card for each move, as large as a tired person wants it."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.check import Replay
from packseq.house.model import House
from packseq.page.markup import listed, tag, text
from packseq.plan.model import Move
from packseq.report.remarks import stands_alone
from packseq.report.schedule import Schedule, Turn
from packseq.report.words import names, on_wall, put_on, taken_from

Fact = tuple[str, str, str]
"""What is told, how, and "plain" where it need not stand out."""


def step_cards(done: Replay, schedule: Schedule) -> str:
    """Return every move as a card, in order: what to do, from where, to where, who, what to watch."""
    last = len(done.plan.moves)
    turn_of = {move.n: turn for turn in schedule.turns for move in (*turn.aside, turn.stand)}
    cards = (_card(done, schedule, turn_of.get(move.n), move, last) for move in done.plan.moves)
    return tag("ol", *cards, class_="cards", id="cards")


def _card(done: Replay, schedule: Schedule, turn: Turn | None, move: Move, last: int) -> str:
    standing = move.do == "stand"
    count = f"Step {move.n} of {last}" + (f", frame no. {move.stand} to stand" if standing else "")
    facts = _stand_facts(done, turn) if turn is not None and standing else _aside_facts(done, turn, move)
    pairs = (text("dt", name) + text("dd", said, class_=how) for name, said, how in facts)
    watch = tuple(_watch(done, schedule, turn, move))
    return tag(
        "li",
        text("p", count, class_="count"),
        tag(
            "h3", text("span", "Stand" if standing else "Set aside", class_="do"), " ", text("b", move.frame)
        ),
        tag("dl", *pairs),
        listed("ul", watch, class_="watch") if watch else "",
        class_="step stand" if standing else "step aside",
        id=f"step-{move.n}",
    )


def _stand_facts(done: Replay, turn: Turn) -> Iterator[Fact]:
    move = turn.stand
    yield "Take it from", taken_from(move), ""
    yield "Stand it", on_wall(done.job.house, move.frame), ""
    yield "People", str(move.people), ""
    yield "Touches", names(move.touches) if move.touches else "nothing yet", ""
    if turn.aside:
        yield "Set aside first", _set_aside_first(turn), "plain"
    yield "Frame", _frame(done.job.house, move), "plain"
    yield "Carry", _way(move), "plain"


def _aside_facts(done: Replay, turn: Turn | None, move: Move) -> Iterator[Fact]:
    yield "Take it from", taken_from(move), ""
    yield "Put it on", put_on(move), ""
    yield "People", str(move.people), ""
    if turn is not None:
        yield "So that", f"{turn.stand.frame} can be stood (no. {turn.number})", "plain"
    yield "Frame", _frame(done.job.house, move), "plain"
    yield "Carry", _way(move), "plain"


def _set_aside_first(turn: Turn) -> str:
    first, last = turn.aside[0].n, turn.aside[-1].n
    steps = f"step {first}" if first == last else f"steps {first} to {last}"
    return f"{names(move.frame for move in turn.aside)} ({steps})"


def _frame(house: House, move: Move) -> str:
    frame = house.scenario.frames[move.frame]
    mass = f"{frame.mass_kg:.0f} kg" + (" (estimated)" if frame.mass_is_estimate else "")
    return f"{frame.length_mm / 1000:.1f} x {frame.height_mm / 1000:.1f} m, {mass}"


def _way(move: Move) -> str:
    loaded = f"{move.loaded_mm / 1000:.0f} m, {'by the way drawn' if move.route_mm else 'in a straight line'}"
    return f"{loaded}; {move.empty_mm / 1000:.0f} m to fetch it" if move.empty_mm else loaded


def _watch(done: Replay, schedule: Schedule, turn: Turn | None, move: Move) -> Iterator[str]:
    house = done.job.house
    if move.people == house.scenario.crew.people:
        yield "Needs the whole crew."
    if turn is None or move.do == "set aside":
        return
    alone = stands_alone(house, move)
    if alone is not None:
        yield f"It {alone}: brace it as a free-standing frame before anyone lets go."
    else:
        yield "Brace it before anyone lets go."
    if move.frame in done.held_open:
        yield "Held open until now: see that nothing else must come in through its place."
    yield from _level_change(house, schedule, turn)


def _level_change(house: House, schedule: Schedule, turn: Turn) -> Iterator[str]:
    level = house.level_of[turn.stand.frame].level
    stood = (*schedule.plan.stood_before, *(other.stand.frame for other in schedule.turns))
    if turn.number > 1 and house.level_of[stood[turn.number - 2]].level != level:
        yield f"First frame of level {level}: see that its floor is down and may be worked on."
