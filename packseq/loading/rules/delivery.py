"""The rule on trucks: what is wanted first comes off first."""

from __future__ import annotations

from itertools import permutations

from packseq.loading.variables import LoadVariables
from packseq.standup.variables import Literal, total


def delivery_order(v: LoadVariables) -> None:
    """Have the packs come off the decks in the order in which they are wanted, on decks that carry them."""
    decks = v.job.scenario.decks
    if not decks:
        return
    places = [place for place in v.job.landings if v.layers(place)]
    wanted = {place: _wanted(v, place) for place in places}
    deck_of = {place: v.model.new_int_var(0, len(decks) - 1, f"deck of {place}") for place in places}
    for first, second in permutations(places, 2):
        earlier = v.model.new_bool_var("")
        v.model.add(wanted[first] < wanted[second]).only_enforce_if(earlier)
        v.model.add(wanted[first] >= wanted[second]).only_enforce_if(~earlier)
        both = [v.used[first, 0], v.used[second, 0]]
        v.model.add(deck_of[first] <= deck_of[second]).only_enforce_if(earlier, *both)
    for number, deck in enumerate(decks):
        on: dict[str, Literal] = {}
        for place in places:
            here = on[place] = v.model.new_bool_var(f"{place} on {deck.name}")
            v.model.add(deck_of[place] == number).only_enforce_if(here)
            v.model.add(deck_of[place] != number).only_enforce_if(~here, v.used[place, 0])
        v.model.add(total(_long(v, place, on[place]) for place in places) <= int(deck.length_mm))
        v.model.add(total(_heavy(v, place, on[place]) for place in places) <= int(deck.most_kg * 1000 + 1e-6))


def _wanted(v: LoadVariables, place: str) -> Literal:
    """Return when the first frame of a pack is lifted: when the first one is stood."""
    last = len(v.job.names)
    wanted = v.model.new_int_var(0, last, f"{place} wanted")
    first = []
    for name in v.job.frames_of[v.job.landings[place].level]:
        is_first = v.model.new_bool_var("")
        v.model.add(wanted <= v.up[name]).only_enforce_if(v.inside[name, place])
        v.model.add_implication(is_first, v.inside[name, place])
        v.model.add(wanted >= v.up[name]).only_enforce_if(is_first)
        first.append(is_first)
    v.model.add_exactly_one(*first, ~v.used[place, 0])
    v.model.add(wanted == last).only_enforce_if(~v.used[place, 0])
    return wanted


def _long(v: LoadVariables, place: str, on_deck: Literal) -> Literal:
    """Return the length that a pack takes up on a deck, 0 where it is on another."""
    names = v.job.frames_of[v.job.landings[place].level]
    long = v.model.new_int_var(0, max(v.job.length_mm[name] for name in names), "")
    for name in names:
        v.model.add(long >= v.job.length_mm[name]).only_enforce_if(v.inside[name, place], on_deck)
    return long


def _heavy(v: LoadVariables, place: str, on_deck: Literal) -> Literal:
    """Return the mass that a pack adds to a deck in grams, 0 where it is on another."""
    names = v.job.frames_of[v.job.landings[place].level]
    heavy = v.model.new_int_var(0, sum(v.job.grams[name] for name in names), "")
    grams = total(v.job.grams[name] * v.inside[name, place] for name in names)
    v.model.add(heavy >= grams).only_enforce_if(on_deck)
    return heavy
