"""The braces of a plan as plain data."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from packseq.sitework.braces.bracing import Bracing
from packseq.sitework.braces.permanent import temporary_kn
from packseq.sitework.braces.placing import Brace
from packseq.sitework.tape import compass


def bracing_document(bracing: Bracing) -> dict[str, Any]:
    """Return the braces as plain data."""
    timber = bracing.timber
    return {
        "choices": asdict(bracing.choices),
        "stands": [
            {
                "stand": stood.stand,
                "frame": stood.frame,
                "held_by": [hold.words for hold in stood.held_by],
                "alone": stood.alone,
                "across_gap": stood.across_gap,
                "shift_first": list(stood.to_shift),
                "braces": [brace.name for brace in stood.braces],
                "undecided": stood.undecided,
            }
            for stood in bracing.stands
        ],
        "braces": [_brace_document(bracing, brace) for brace in bracing.braces],
        "timber": {
            "pieces": [{"stock_mm": length, "count": count} for length, count in timber.pieces],
            "metres": timber.metres,
            "blocks": timber.blocks,
            "pegs": timber.pegs,
        },
        "temporary_kn": [temporary_kn(each) for each in bracing.permanent_kn],
    }


def _brace_document(bracing: Bracing, brace: Brace) -> dict[str, Any]:
    tape, way, tie = bracing.tapes[brace.frame.name], brace.way, brace.tie
    return {
        "name": brace.name,
        "stand": brace.stand,
        "frame": brace.frame.name,
        "why": brace.why,
        "from": tape.hook,
        "at_mm": round(tape.from_end_1(brace.at_mm)),
        "length_mm": None if brace.timber_mm is None else round(brace.timber_mm),
        "angle_deg": None if way is None else round(way.angle_deg, 1),
        "top_mm": None if way is None else round(way.top_mm),
        "toward": None if way is None else compass(way.face, way.foot),
        "foot_out_mm": None if way is None else round(way.reach_mm),
        "foot_at_mm": None if way is None else [round(place) for place in way.foot],
        "foot": bracing.foot(brace) or None,
        "tie_to": None if tie is None else tie.to,
        "crosses": [] if way is None else list(way.crosses),
        "in_the_way": list(brace.in_the_way),
        "stays_until": f"{bracing.waits_for(brace.frame.level)} fixed",
    }
