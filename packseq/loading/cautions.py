"""What a loading sheet says before anything else."""

from __future__ import annotations

LIFTING = (
    "This sheet says what lies where and in which order it is wanted. It does not say that a pack, a lift or "
    "a truck load will hold. Whoever is competent for it plans the lift and chooses slings, lifting points "
    "and gear; nobody works or walks under a hanging pack."
)
CRANE = (
    "The limit of a crane is what the operator's load chart gives at the reach and in the set-up of the day. "
    "The limits used here are those of [load] in site.toml: hold them against the chart before loading."
)
MASSES = (
    "Masses marked est. are estimates, and each frame's centre of gravity is taken to lie at its middle: a "
    "frame with a heavy lintel or joinery at one end pulls its pack to that side. Weigh the packs, and lift "
    "each one a hand's breadth first."
)
TRAVEL = (
    "Strapping, bearers, load restraint, axle loads, and travel over width or length are for the local road "
    "rules and the driver. No strap is cut before the pack lies on firm, level ground."
)
CAUTIONS = (LIFTING, CRANE, MASSES, TRAVEL)
