"""What a booklet goes by, and the same in words with the option that changes each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from packseq.sitework.braces.choices import BraceChoices
from packseq.sitework.fixings.fixing import FixingFiles, PlateRules
from packseq.sitework.laps.study import LapChoices
from packseq.sitework.lifts.choices import LiftChoices
from packseq.sitework.setout import Choices


@dataclass(frozen=True, slots=True)
class JobChoices:
    """What the booklet goes by; `gust_m_per_s` is None, and `permanent_kn` empty, where not given."""

    files: FixingFiles
    rules: PlateRules
    laps: LapChoices
    lines: Choices = field(default_factory=Choices)
    lifts: LiftChoices = field(default_factory=LiftChoices)
    gust_m_per_s: float | None = None
    braces: BraceChoices = field(default_factory=BraceChoices)
    permanent_kn: tuple[float, ...] = ()


def chosen(choices: JobChoices) -> Iterator[tuple[str, str, str]]:
    """Yield each choice: what it is about, the value, and the option that changes it."""
    lines, lifts, braces = choices.lines, choices.lifts, choices.braces
    yield "lines off frames' faces", f"{lines.offset_mm:g} mm", "--offset"
    yield "an internal wall shares a line within", f"{lines.reach_mm:g} mm", "--share-within"
    gust = "not given" if choices.gust_m_per_s is None else f"{choices.gust_m_per_s:g} m/s"
    yield "forecast gust", gust, "--gust"
    each = "the crew's share" if lifts.each_kg is None else f"{lifts.each_kg:g} kg"
    yield "what one person could lift alone", each, "--each"
    yield "hands out from the ankles", f"{lifts.reach_mm:g} mm", "--reach"
    hands = "from where each frame lies" if lifts.hands_mm is None else f"{lifts.hands_mm:g} mm"
    yield "height of the hands at lift-off", hands, "--hands"
    yield "load to the side", f"{lifts.turn_deg:g} degrees", "--turn"
    yield "lifts a minute, hours a day", f"{lifts.per_minute:g}, {lifts.hours:g}", "--per-minute, --hours"
    yield "grip", lifts.coupling, "--grip"
    yield "push that one person keeps up", f"{lifts.push_kg:g} kg", "--push"
    yield "most from brace to brace", f"{braces.spacing_mm:g} mm", "--spacing"
    yield "most from an end to its brace", f"{braces.from_end_mm:g} mm", "--from-end"
    yield "wanted angle of a brace", f"{braces.angle_deg:g} degrees", "--angle"
    yield "braces of external frames, with room on both sides", braces.side, "--side"
    forces = ", ".join(f"{force:g} kN" for force in choices.permanent_kn) or "not given"
    yield "racking force of the permanent bracing", forces, "--permanent"
    yield "most from reading to reading", f"{choices.laps.station_mm:g} mm", "--stations"
    yield "limits for what is measured", choices.laps.limits.name, "--tolerances"
    yield "fixing schedule", _given(choices.files.schedule, "the default one"), "--schedule"
    yield "fixings delivered", _given(choices.files.delivered, "not given"), "--delivered"
    yield "bracing walls", _given(choices.files.bracing, "not given"), "--bracing"
    yield "rule for external bottom plates", choices.rules.external.name, "--anchors"
    yield "rule for internal ones", choices.rules.internal.name, "--internal-anchors"


def _given(what: object, otherwise: str) -> str:
    return otherwise if what is None else "as given"
