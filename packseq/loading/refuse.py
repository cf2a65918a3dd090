"""What no load can keep, told before any search: by name, each thing once."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.errors import Conflict, Fault, InputError, NoPlanError
from packseq.house.model import House
from packseq.loading.bounds import fewest_packs
from packseq.loading.job import LoadJob
from packseq.scenario.files import SITE


def refuse_hopeless(house: House) -> None:
    """Refuse a house of which some frame, some group of frames or all of a level cannot be loaded.

    Raises
    ------
    InputError
        When a level has frames but no landing place.
    NoPlanError
        With every frame and limit in conflict.
    """
    job = LoadJob(house, "clockwise", {})
    nowhere = [level for level in house.scenario.levels if not job.landings_on[level]]
    if nowhere:
        text = "no [[pack]] says where packs of level {} are landed"
        raise InputError(Fault(SITE, text.format(level), column="pack") for level in nowhere)
    conflicts = [*_frames(job), *_crews(job), *_groups(job), *_decks(job)]
    if not conflicts:
        conflicts += _packs(job)
    if conflicts:
        raise NoPlanError(conflicts)


def _frames(job: LoadJob) -> Iterator[Conflict]:
    limits = job.limits
    for name, frame in job.scenario.frames.items():
        if job.length_mm[name] > limits.longest_mm:
            text = f"{name} is {job.length_mm[name]} mm long, a pack at most {limits.longest_mm:.10g}"
            yield Conflict(("length",), f"{text} (load.longest_mm)")
        if job.width_mm[name] > limits.widest_mm:
            text = f"{name} is {job.width_mm[name]} mm high and lies across the pack"
            yield Conflict(("width",), f"{text}, which is at most {limits.widest_mm:.10g} (load.widest_mm)")
        room_mm = limits.most_height_mm - limits.bearer_mm
        if job.thickness_mm[name] > room_mm:
            text = f"{name} is {frame.thickness_mm:.10g} mm thick, a pack has room for {room_mm:.10g}"
            yield Conflict(("height",), f"{text} (load.most_height_mm, load.bearer_mm)")
        most = max(job.most_grams[landing.name] for landing in job.landings_on[frame.level])
        if job.grams[name] > most:
            text = f"{name} weighs {frame.mass_kg:.10g} kg, at most {most / 1000:.10g} kg can be landed"
            yield Conflict(("mass",), f"{text} (load.most_kg, pack.most_kg)")


def _crews(job: LoadJob) -> Iterator[Conflict]:
    crew = job.scenario.crew
    for name, frame in job.scenario.frames.items():
        team = crew.team(frame.mass_kg)
        if team > crew.people:
            text = f"{name} ({frame.mass_kg:g} kg) needs {team} people; the crew has {crew.people}"
            yield Conflict(("crew-lift",), text)


def _groups(job: LoadJob) -> Iterator[Conflict]:
    for group in job.together:
        names = sorted(group)
        heavy = sum(job.grams[name] for name in names)
        level = job.scenario.frames[names[0]].level
        most = max(job.most_grams[landing.name] for landing in job.landings_on[level])
        if heavy > most:
            text = f"{', '.join(names)} must travel together and weigh {heavy / 1000:.10g} kg"
            yield Conflict(("mass", "together"), f"{text}, at most {most / 1000:.10g} kg can be landed")
    for names_apart in job.limits.apart:
        for level in job.scenario.levels:
            names = [name for name in names_apart if job.scenario.frames[name].level == level]
            places = len(job.landings_on[level])
            if len(names) > places:
                text = (
                    f"no two of {', '.join(names)} may be in one pack, but there are {places} landing places"
                )
                yield Conflict(("apart", "pack-count"), text)


def _decks(job: LoadJob) -> Iterator[Conflict]:
    decks = job.scenario.decks
    if not decks:
        return
    longest, most_kg = max(deck.length_mm for deck in decks), max(deck.most_kg for deck in decks)
    for name in job.names:
        if job.length_mm[name] > longest:
            text = f"{name} is {job.length_mm[name]} mm long, the longest deck {longest:.10g}"
            yield Conflict(("delivery-order",), f"{text} (deck.length_mm)")
        if job.grams[name] > most_kg * 1000:
            text = f"{name} weighs {job.grams[name] / 1000:.10g} kg, a deck takes at most {most_kg:.10g} kg"
            yield Conflict(("delivery-order",), f"{text} (deck.most_kg)")
    heavy_kg, room_kg = sum(job.grams.values()) / 1000, sum(deck.most_kg for deck in decks)
    if heavy_kg > room_kg:
        text = f"the frames weigh {heavy_kg:.10g} kg, the decks take {room_kg:.10g} kg in all"
        yield Conflict(("delivery-order",), f"{text} (deck.most_kg)")


def _packs(job: LoadJob) -> Iterator[Conflict]:
    needed = {level: fewest_packs(job, level) for level in job.scenario.levels}
    for level, count in needed.items():
        places = len(job.landings_on[level])
        if count > places:
            text = f"the frames of level {level} need at least {count} packs by mass and layers"
            yield Conflict(("mass", "height", "pack-count"), f"{text}, there are {places} landing places")
    most = job.limits.most_packs
    if most is not None and sum(needed.values()) > most:
        text = f"the frames need at least {sum(needed.values())} packs by mass and layers"
        yield Conflict(
            ("mass", "height", "pack-count"), f"{text}, at most {most} may be made (load.most_packs)"
        )
