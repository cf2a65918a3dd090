"""Where the packs land, where the scenario gives them several places, and what that choice saves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from packseq.check import Replay, replay
from packseq.check.violation import PLAN_FILE
from packseq.report.words import metres, names
from packseq.scenario.landing import MOST_LANDINGS, landings
from packseq.scenario.model import Pack, Place


def landed(done: Replay) -> Iterator[str]:
    """Yield where packs land that have a choice, what that saves, and what was left out.

    The plan is replayed with every pack at its first place: the same moves in the same order. How good the
    best plan from there is takes a search of its own.
    """
    packs = done.job.house.scenario.packs
    if done.plan.begins is not None or all(len(pack.places) == 1 for pack in packs.values()):
        return
    places = done.job.places
    moved = [name for name, pack in packs.items() if places[name] != pack.places[0]]
    if moved:
        where = names(_place(packs[name], places[name]) for name in moved)
        yield f"Landing: {where}. {_at_first(done, packs)}"
    else:
        yield "Landing: every pack at the first of its places."
    if landings(done.job.house.scenario).left_out:
        yield (
            f"The packs could land in many ways. The {MOST_LANDINGS} from which the frames are carried least "
            "were searched; nothing is proven of the others."
        )


def _place(pack: Pack, place: Place) -> str:
    x, y = place.at
    return f"pack {pack.name} at place {pack.places.index(place) + 1} (x {x:.0f}, y {y:.0f})"


def _at_first(done: Replay, packs: Mapping[str, Pack]) -> str:
    """Return what the same moves come to with every pack at its first place."""
    first = {name: (*pack.places[0].at, pack.places[0].bearing_deg) for name, pack in packs.items()}
    other = replay(done.job.house, done.plan.model_copy(update={"places": first}), done.job.routes)
    broken = sorted({each.rule for each in other.violations} - {PLAN_FILE})
    if broken:
        return f"From the first place of each pack the same moves would break {names(broken)}."
    more = metres(other.cost.walking_mm) - metres(done.cost.walking_mm)
    return (
        f"From the first place of each pack the same moves would walk {metres(other.cost.walking_mm)} m, "
        f"{abs(more)} m {'more' if more >= 0 else 'less'}; packseq compare plans each place for itself."
    )
