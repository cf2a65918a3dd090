"""What the plan does not say, and who does."""

from __future__ import annotations

_STRENGTH = (
    "This plan gives an order of work. It does not tell whether a frame, a lift, a brace, a fixing "
    "or the slab is strong enough."
)
_LIFTING = (
    "Lifting: team sizes come from the masses and the share per person in the scenario; a mass that "
    "was not given is an estimate. Weigh the frame, or ask its maker, before relying on it. Wind, wet, "
    "mud, slopes and reach call for more people or for lifting gear."
)
_BRACING = (
    "Bracing: brace each frame as it is stood, before anyone lets go of it, and leave the braces in "
    "until the engineer's or maker's documents say that they may come out."
)
_WHO_DECIDES = (
    "Where local codes, the engineer's documents or the maker's documents say otherwise, they come "
    "first. Work that the law keeps for licensed people is theirs to do and to decide."
)

CAUTIONS: tuple[str, ...] = (_STRENGTH, _LIFTING, _BRACING, _WHO_DECIDES)
"""Sentences to show beside every plan; none of them says that anything is safe."""
