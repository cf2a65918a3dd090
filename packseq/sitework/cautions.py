"""What every sheet about lifting, wind, bracing or fixing says before anything else."""

from __future__ import annotations

DEFERRAL = (
    "Local codes, the consented drawings, the engineer's documents and the makers' instructions come first; "
    "where they say otherwise, do as they say. Work that the law keeps for licensed people is theirs to do "
    "and to decide."
)
NO_FIGURE_DECIDES = (
    "The figures here help you plan. None of them tells that a lift, a frame, a brace, a fixing or the slab "
    "is strong enough or free of danger: the person who leads the work looks, and decides, each time."
)
LIFTING = (
    "A mass marked est. is an estimate: weigh the frame, or ask its maker, before relying on it. A wet, "
    "muddy, sloping or cluttered way, a long reach or a tired crew calls for more people or for lifting "
    "gear."
)
WIND = (
    "Never hold a frame up against a wind that pushes back: lay it down and wait. Gusts come stronger "
    "than the forecast at corners, on upper floors and beside openings between buildings. Nobody stands "
    "on the side to which a frame could fall."
)
BRACING = (
    "Nobody lets go of a frame before its braces are fixed at both ends. Braces stay until the roof "
    "trusses or the floor above are fixed; nobody takes one out to get past."
)
STRENGTH_OF_BRACES = (
    "Where braces go and how long they are is worked out here; how strong they, their nails and pegs "
    "must be is not. That is for the engineer or the local rule, and more so in a windy place or on an "
    "upper floor."
)
FIXING = (
    "The consented drawings and the engineer's fixing schedule say what is fixed with what. A rule "
    "named here is a published one, given so that something missing is noticed; it replaces neither."
)
