"""The sheet about temporary braces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from shapely import Point as Dot
from shapely import Polygon

from packseq.check import Replay
from packseq.sheet import Column, Part, Section, Sheet, Table, Tick, Ticks, Words
from packseq.sitework.braces.choices import BraceChoices
from packseq.sitework.braces.holding import FIRST_CORNER_MM
from packseq.sitework.braces.order import Stood, brace_order
from packseq.sitework.braces.permanent import TEMPORARY_SHARE, temporary_kn
from packseq.sitework.braces.picture import braces_picture
from packseq.sitework.braces.placing import Brace
from packseq.sitework.braces.timber import STOCK_MM, TakeOff, take_off
from packseq.sitework.cautions import BRACING, DEFERRAL, NO_FIGURE_DECIDES, STRENGTH_OF_BRACES, WIND
from packseq.sitework.tape import Tape, compass, tapes

TITLE = "Temporary braces"


@dataclass(frozen=True)
class Bracing:
    """The braces of a plan, stand by stand.

    `permanent_kn` is the racking force of the permanent bracing, one for each direction, where the
    engineer's figures were given.
    """

    done: Replay
    choices: BraceChoices
    stands: tuple[Stood, ...]
    permanent_kn: tuple[float, ...] = ()

    @cached_property
    def braces(self) -> tuple[Brace, ...]:
        """Every brace, in the order in which they are fixed."""
        return tuple(brace for stood in self.stands for brace in stood.braces)

    @cached_property
    def tapes(self) -> Mapping[str, Tape]:
        """From which end each frame is measured."""
        return tapes(self.done.job.house, self.done.job.direction)

    @cached_property
    def timber(self) -> TakeOff:
        """What the braces are cut from."""
        pegged = [brace.name for brace in self.braces if self.foot(brace) == "peg"]
        return take_off(self.braces, pegged)

    def foot(self, brace: Brace) -> str:
        """Return what the foot of a brace is fixed to: slab, floor or peg; blank for a tie."""
        if brace.way is None:
            return ""
        scenario = self.done.job.house.scenario
        if brace.frame.level != scenario.levels[0]:
            return "floor"
        return "slab" if Polygon(scenario.slab).covers(Dot(brace.way.foot)) else "peg"

    def waits_for(self, level: int) -> str:
        """Return what must be fixed before the braces of a level may come off."""
        above = [other for other in self.done.job.house.scenario.levels if other > level]
        return f"the floor of level {above[0]}" if above else "the roof trusses"


def study_bracing(done: Replay, choices: BraceChoices, *, permanent_kn: tuple[float, ...] = ()) -> Bracing:
    """Work out the braces of a plan that keeps the rules."""
    return Bracing(done, choices, brace_order(done, choices), permanent_kn)


def bracing_sheet(bracing: Bracing) -> Sheet:
    """Return the sheet: what to decide, the stands, the braces, the timber, and when they come off."""
    return Sheet(
        TITLE,
        bracing.done.job.house.scenario.name,
        (BRACING, STRENGTH_OF_BRACES, WIND, NO_FIGURE_DECIDES, DEFERRAL),
        (
            Section("Before the first frame", tuple(_first_parts(bracing))),
            Section("As each frame goes up", (_stand_table(bracing),)),
            Section("Every brace", (*_pictures(bracing), _brace_table(bracing))),
            Section("Timber", (_timber_table(bracing),)),
            Section("When braces come off", (_coming_off(bracing),)),
            Section("The rule used", (Words(tuple(_rule(bracing))),)),
        ),
    )


def _first_parts(bracing: Bracing) -> Iterator[Part]:
    alone = [stood for stood in bracing.stands if stood.alone]
    yield Ticks(
        tuple(
            Tick(
                f"Stand {stood.stand}, {stood.frame}{', across a gap' if stood.across_gap else ''}: "
                f"{', '.join(brace.name for brace in stood.braces)}"
            )
            for stood in alone
        ),
        "Nothing holds these as they go up. Their braces, never fewer than two, are cut, nailed on at the "
        "top and ready to fix at the foot before the frame is lifted:",
    )
    undecided = [stood for stood in bracing.stands if stood.undecided]
    if undecided:
        yield Ticks(
            tuple(
                Tick(f"Stand {stood.stand}, {stood.frame}: {_missing(stood)}", ("decided by",))
                for stood in undecided
            ),
            "No room for a brace or a tie here. Decide how the frame is held before it leaves its pack:",
        )


def _missing(stood: Stood) -> str:
    missing = [brace for brace in stood.braces if not brace.fixed]
    if not missing:
        return "nothing holds it and it has fewer than two braces of its own"
    return "; ".join(
        f"{brace.name} ({brace.why}), between {' and '.join(brace.in_the_way) or 'other braces'}"
        for brace in missing
    )


def _stand_table(bracing: Bracing) -> Table:
    columns = (
        Column("stand", number=True),
        Column("frame"),
        Column("wall"),
        Column("shift first"),
        Column("held by"),
        Column("fix before letting go"),
        Column("done", to_fill_in=True),
    )
    run_of = bracing.done.job.house.run_of
    rows = tuple(
        (
            str(stood.stand),
            stood.frame,
            run_of[stood.frame].name,
            ", ".join(stood.to_shift),
            "; ".join(hold.words for hold in stood.held_by) or _alone(stood),
            _to_fix(stood),
            "",
        )
        for stood in bracing.stands
    )
    return Table(columns, rows)


def _alone(stood: Stood) -> str:
    return "nothing: free-standing across the gap" if stood.across_gap else "nothing: free-standing"


def _to_fix(stood: Stood) -> str:
    words = [
        brace.name if brace.frame.name == stood.frame else f"{brace.name} on {brace.frame.name}"
        for brace in stood.braces
    ]
    return ", ".join(words) or "its joints; check them before letting go"


def _pictures(bracing: Bracing) -> Iterator[Part]:
    house = bracing.done.job.house
    for level in house.levels:
        yield braces_picture(house, level.level, bracing.braces)


def _brace_table(bracing: Bracing) -> Table:
    columns = (
        Column("brace"),
        Column("stand", number=True),
        Column("frame"),
        Column("for"),
        Column("from its"),
        Column("at mm", number=True),
        Column("degrees", number=True),
        Column("cut mm", number=True),
        Column("foot out mm", number=True),
        Column("foot"),
        Column("note"),
    )
    return Table(columns, tuple(_brace_row(bracing, brace) for brace in bracing.braces))


def _brace_row(bracing: Bracing, brace: Brace) -> tuple[str, ...]:
    tape, way = bracing.tapes[brace.frame.name], brace.way
    return (
        brace.name,
        str(brace.stand),
        brace.frame.name,
        brace.why,
        tape.hook,
        f"{tape.from_end_1(brace.at_mm):.0f}",
        f"{way.angle_deg:.0f}" if way else "",
        "" if brace.timber_mm is None else f"{brace.timber_mm:.0f}",
        f"{way.reach_mm:.0f}" if way else "",
        f"{compass(way.face, way.foot)}, {bracing.foot(brace)}" if way else "",
        "; ".join(_notes(brace)),
    )


def _notes(brace: Brace) -> Iterator[str]:
    if not brace.fixed:
        yield "no room: decide first"
    if brace.tie is not None:
        yield f"tie over the top plates to {brace.tie.to}"
    if brace.way is not None and brace.way.top_mm < brace.frame.height_mm:
        yield f"top {brace.way.top_mm:.0f} up: little room"
    if brace.way is not None and brace.way.crosses:
        lines = ", ".join(brace.way.crosses)
        yield f"over the line of {lines}: another is fixed, then this shifted, before that goes up"


def _timber_table(bracing: Bracing) -> Table:
    timber = bracing.timber
    rows = [(f"brace or tie, {length} mm", str(count)) for length, count in timber.pieces]
    rows += [
        ("block for a foot on slab or floor", str(timber.blocks)),
        ("peg in the ground", str(timber.pegs)),
    ]
    title = (
        f"{timber.metres:.1f} m in all, cut lengths rounded up to {STOCK_MM} mm; nothing allowed for waste."
    )
    return Table((Column("piece"), Column("count", number=True)), tuple(rows), title)


def _coming_off(bracing: Bracing) -> Ticks:
    levels = bracing.done.job.house.scenario.levels
    many = len(levels) > 1
    return Ticks(
        tuple(
            Tick(
                f"{f'Level {level}: every' if many else 'Every'} brace stays until "
                f"{bracing.waits_for(level)} and the permanent bracing are fixed, and the engineer's "
                "documents or the local rule let it go.",
                ("released by", "date"),
            )
            for level in levels
        )
    )


def _rule(bracing: Bracing) -> Iterator[str]:
    choices = bracing.choices
    yield (
        f"Each end that no wall and no brace holds within {choices.from_end_mm:.0f} mm gets a brace; "
        f"between holds more go in, at most {choices.spacing_mm:.0f} mm apart (site practice in the "
        "United States is 8 to 10 ft, from memory); the rest is common practice, no source."
    )
    yield (
        f"A wall across holds a frame when it is {choices.least_return_mm:.0f} mm or longer. A frame "
        "that nothing holds, or that stands across a gap, has two braces of its own or more. The first "
        f"corner of each level has a brace within {FIRST_CORNER_MM:.0f} mm on both its walls, so that "
        "both can be plumbed."
    )
    yield (
        f"Angle {choices.angle_deg:g} degrees: length is height / sin(angle), foot out by height / "
        f"tan(angle). With less room it is set steeper, to {choices.steepest_deg:g} degrees, then nailed "
        f"lower, to {choices.least_top:.0%} of the height; then a tie over the top plates of up to "
        f"{choices.tie_mm:.0f} mm."
    )
    for number, permanent in enumerate(bracing.permanent_kn, 1):
        yield (
            f"Where AS 1684 holds: direction {number}, permanent bracing {permanent:g} kN, so temporary "
            f"bracing of {TEMPORARY_SHARE:.0%}: at least {temporary_kn(permanent):.1f} kN, evenly "
            "spread. Ask the engineer."
        )
    yield (
        "Where people walk and carry between braces is not worked out: look before each is fixed, and move "
        "one that bars a way."
    )
    yield "Every formula and its source: docs/braces.md."
