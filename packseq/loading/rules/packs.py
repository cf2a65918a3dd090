"""Rules on what may lie in one pack, and how many packs there are."""

from __future__ import annotations

from packseq.loading.variables import LoadVariables
from packseq.standup.variables import total


def mass(v: LoadVariables) -> None:
    """Load no more on a pack than can be landed at its place."""
    for place, landing in v.job.landings.items():
        names = v.job.frames_of[landing.level]
        heavy = total(v.job.grams[name] * v.inside[name, place] for name in names)
        if landing.most_kg is None:
            most = v.limit("most_kg", v.job.limits.most_kg, sum(v.job.grams.values()) / 1000 + 1)
            grams = 1000 * most if v.eased == "most_kg" else v.job.most_grams[place]
            v.model.add(heavy <= grams)
        else:
            v.model.add(heavy <= v.job.most_grams[place])


def height(v: LoadVariables) -> None:
    """Lay up no more layers, and no higher, than the limits."""
    limits = v.job.limits
    for place, landing in v.job.landings.items():
        names = v.job.frames_of[landing.level]
        most_layers = v.limit("most_layers", limits.most_layers, len(names))
        v.model.add(total(v.used[place, layer] for layer in v.layers(place)) <= most_layers)
        thickest = max(v.job.thickness_mm[name] for name in names)
        bearers = int(-(-limits.bearer_mm // 1))
        most_mm = v.limit("most_height_mm", limits.most_height_mm, bearers + thickest * len(names))
        heights = []
        for layer in v.layers(place):
            thick = v.model.new_int_var(0, thickest, f"{place} {layer} thickness")
            for name in names:
                v.model.add(thick >= v.job.thickness_mm[name]).only_enforce_if(v.at[name, place, layer])
            heights.append(thick)
        v.model.add(total(heights) + bearers <= most_mm)


def level_apart(v: LoadVariables) -> None:
    """Put frames of one level only in a pack: the model has no others, as `at` is made level by level."""
    for name, place in v.inside:
        if v.job.scenario.frames[name].level != v.job.landings[place].level:
            v.model.add_bool_or([])


def pack_count(v: LoadVariables) -> None:
    """Make no more packs than may be."""
    for level, most in v.job.packs.items():
        here = [landing.name for landing in v.job.landings_on[level]]
        v.model.add(total(v.used[place, 0] for place in here if v.layers(place)) <= most)
    packs = [v.used[place, 0] for place in v.job.landings if v.layers(place)]
    if v.job.limits.most_packs is not None:
        v.model.add(total(packs) <= v.limit("most_packs", v.job.limits.most_packs, len(packs)))


def together(v: LoadVariables) -> None:
    """Keep in one pack the frames that must travel together."""
    for group in v.job.together:
        first, *others = sorted(group)
        for place in v.job.landings:
            for other in others:
                if (first, place) in v.inside and (other, place) in v.inside:
                    v.model.add(v.inside[first, place] == v.inside[other, place])


def apart(v: LoadVariables) -> None:
    """Keep in different packs the frames that must not be in one."""
    for group in v.job.limits.apart:
        for place in v.job.landings:
            v.model.add_at_most_one(v.inside[name, place] for name in group if (name, place) in v.inside)
