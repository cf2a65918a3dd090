"""Numbered tags to print, cut and tie to the frames, in the order in which they stand."""

from __future__ import annotations

import segno

from packseq.check import Replay
from packseq.page.markup import tag, text
from packseq.plan.model import Move
from packseq.report.schedule import Schedule
from packseq.report.words import taken_from, wall


def frame_tags(done: Replay, schedule: Schedule) -> str:
    """Return a tag for each frame: stand number, name, wall, where it comes from, people, a code to scan."""
    return tag("ol", *(_tag(done, schedule, turn.stand) for turn in schedule.turns), class_="tag-list")


def code_text(done: Replay, stand: Move) -> str:
    """Return what the code on a frame's tag says when it is scanned: plain text, no address."""
    return f"{done.plan.scenario}: frame {stand.frame}, stand no. {stand.stand}"


def _tag(done: Replay, schedule: Schedule, stand: Move) -> str:
    first = schedule.lifts_of[stand.frame][0]
    code = segno.make(code_text(done, stand), error="m", micro=False).svg_inline(
        border=2, omitsize=True, svgclass="code", lineclass="", title=f"Code of frame {stand.frame}"
    )
    said = tag(
        "div",
        text("b", str(stand.stand), class_="number-big"),
        text("strong", stand.frame),
        text("span", wall(done.job.house, stand.frame)),
        text("span", taken_from(first)),
        text("span", f"{stand.people} people"),
    )
    return tag("li", tag("i", class_="hole", aria_hidden="true"), said, code)
