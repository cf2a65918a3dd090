"""Rules on rows: how long and wide they are, what they lie on, and where they pull the pack."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ortools.sat.python import cp_model

from packseq.loading.variables import LoadVariables
from packseq.standup.variables import Expression, total

Sizes = Mapping[str, int]


def length(v: LoadVariables) -> None:
    """Make no pack longer than the limit."""
    _no_frame_past(v, "longest_mm", v.job.length_mm)


def width(v: LoadVariables) -> None:
    """Make no pack wider than the limit."""
    _no_frame_past(v, "widest_mm", v.job.width_mm)


def _no_frame_past(v: LoadVariables, limit: str, sizes: Sizes) -> None:
    most = v.limit(limit, getattr(v.job.limits, limit), max(sizes.values()))
    for size in sorted(set(sizes.values())):
        v.model.add(size <= most)


def layer_room(v: LoadVariables) -> None:
    """Share a layer only as allowed, and within the pack's longest and tallest frame."""
    limits = v.job.limits
    for (place, layer), names in v.slots():
        held = [v.at[name, place, layer] for name in names]
        if not limits.end_to_end:
            beside = v.beside[place, layer]
            v.model.add(total(held) <= 1).only_enforce_if(~beside)
    for along, sizes in ((True, v.job.length_mm), (False, v.job.width_mm)):
        for place, landing in v.job.landings.items():
            names = v.job.frames_of[landing.level]
            largest = _largest(v, place, names, sizes)
            for layer in v.layers(place):
                reach, rows_across = _row(v, place, layer, names, sizes)
                enforced = ~v.beside[place, layer] if along else v.beside[place, layer]
                if rows_across or along:
                    v.model.add(reach <= largest).only_enforce_if(enforced)


def _largest(v: LoadVariables, place: str, names: Sequence[str], sizes: Sizes) -> cp_model.IntVar:
    """Return the size of the largest frame of a pack, or less: some frame of the pack has at least this."""
    largest = v.model.new_int_var(0, max(sizes[name] for name in names), f"{place} largest")
    chosen = []
    for name in names:
        is_largest = v.model.new_bool_var("")
        v.model.add_implication(is_largest, v.inside[name, place])
        v.model.add(largest <= sizes[name]).only_enforce_if(is_largest)
        chosen.append(is_largest)
    v.model.add(largest == 0).only_enforce_if([~each for each in chosen])
    v.model.add_at_most_one(chosen)
    return largest


def _row(
    v: LoadVariables, place: str, layer: int, names: Sequence[str], sizes: Sizes
) -> tuple[Expression, bool]:
    """Return the length of the frames of a layer one after another, and whether they could lie beside."""
    gap = int(-(-v.job.limits.layer_gap_mm // 1))
    held = total((sizes[name] + gap) * v.at[name, place, layer] for name in names)
    return held - gap * v.used[place, layer], v.beside[place, layer] is not v.standing.never


def support(v: LoadVariables) -> None:
    """Let no frame reach past any layer beneath it by more than the overhang."""
    limits = v.job.limits
    largest = max(*v.job.length_mm.values(), *v.job.width_mm.values())
    overhang = v.limit("overhang_mm", limits.overhang_mm, largest)
    twice = 2 * overhang if v.eased == "overhang_mm" else int(2 * limits.overhang_mm + 1e-6)
    for place, landing in v.job.landings.items():
        names = v.job.frames_of[landing.level]
        beside = v.may_lie_beside[landing.level]
        for along, sizes in ((True, v.job.length_mm), (False, v.job.width_mm)):
            # Where frames are all as tall and cannot lie side by side, nothing reaches past anything across.
            if along or beside or len({sizes[name] for name in names}) > 1:
                _carried(v, place, names, sizes, twice, in_a_row_if_beside=not along)


def _carried(
    v: LoadVariables,
    place: str,
    names: Sequence[str],
    sizes: Sizes,
    twice: Expression | int,
    *,
    in_a_row_if_beside: bool,
) -> None:
    """Have each layer carry every layer above it in one direction, `twice` the overhang allowed in all."""
    most = max(sizes[name] for name in names)
    above = v.model.new_constant(0)
    for layer in v.layers(place):
        used, beside = v.used[place, layer], v.beside[place, layer]
        in_a_row = beside if in_a_row_if_beside else ~beside
        reach = v.model.new_int_var(0, most, f"{place} {layer} reach")
        bears = v.model.new_int_var(0, most, f"{place} {layer} bears")
        row, _ = _row(v, place, layer, names, sizes)
        v.model.add(reach >= row).only_enforce_if(in_a_row)
        v.model.add(bears <= row).only_enforce_if(in_a_row)
        for name in names:
            here = v.at[name, place, layer]
            v.model.add(reach >= sizes[name]).only_enforce_if(here, ~in_a_row)
            v.model.add(bears <= sizes[name]).only_enforce_if(here, ~in_a_row)
        v.model.add(above <= bears + twice).only_enforce_if(used)
        furthest = v.model.new_int_var(0, most, f"{place} {layer} and above")
        v.model.add(furthest >= reach)
        v.model.add(furthest >= above)
        above = furthest


def balance(v: LoadVariables) -> None:
    """Keep the centre of gravity over the middle of the pack, along and across it.

    Each frame of a row gets its place in it; rows are centred, so that a frame alone pulls to no side.
    """
    for along, sizes in ((True, v.job.length_mm), (False, v.job.width_mm)):
        if along or any(v.may_lie_beside.values()):
            _balanced(v, sizes, in_a_row_if_beside=not along)


def _balanced(v: LoadVariables, sizes: Sizes, *, in_a_row_if_beside: bool) -> None:
    gap = int(-(-v.job.limits.layer_gap_mm // 1))
    most = max(sizes.values())
    # Twice the distance from the middle of the pack to the middle of the frame, to stay whole.
    off = {name: v.model.new_int_var(-most, most, f"{name} off the middle") for name in v.job.names}
    for (place, layer), names in v.slots():
        row, _ = _row(v, place, layer, names, sizes)
        in_a_row = ~v.beside[place, layer] if not in_a_row_if_beside else v.beside[place, layer]
        spans = []
        for name in names:
            here = v.at[name, place, layer]
            v.model.add(off[name] <= row - sizes[name]).only_enforce_if(here, in_a_row)
            v.model.add(off[name] >= sizes[name] - row).only_enforce_if(here, in_a_row)
            v.model.add(off[name] == 0).only_enforce_if(here, ~in_a_row)
            both = v.model.new_bool_var("")
            v.model.add_implication(both, here)
            v.model.add_implication(both, in_a_row)
            v.model.add_bool_or(both, ~here, ~in_a_row)
            begins = off[name] - sizes[name]
            # Twice the size and gap, as places are doubled.
            spans.append(
                v.model.new_optional_fixed_size_interval_var(begins, 2 * (sizes[name] + gap), both, "")
            )
        v.model.add_no_overlap(spans)
    twice = int(2 * v.job.limits.balance_mm + 1e-6)
    for place, landing in v.job.landings.items():
        names = v.job.frames_of[landing.level]
        pulls = []
        for name in names:
            pull = v.model.new_int_var(-most, most, "")
            v.model.add(pull == off[name]).only_enforce_if(v.inside[name, place])
            v.model.add(pull == 0).only_enforce_if(~v.inside[name, place])
            pulls.append(v.job.grams[name] * pull)
        grams = total(v.job.grams[name] * v.inside[name, place] for name in names)
        for sign in (1, -1):
            v.model.add(sign * total(pulls) <= twice * grams)
