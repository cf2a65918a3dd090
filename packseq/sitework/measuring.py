"""What every sheet of lines and measured values says before anything else."""

from __future__ import annotations

WHO_DECIDES = (
    "Local codes, the consented drawings and the engineer's and makers' documents come first; where they say "
    "otherwise, do as they say. Where the house stands on its land is for the licensed surveyor to set out."
)
FIGURES_OF_THE_FILES = (
    "Every figure comes from the scenario's files. Compare slab, frames and the consented drawings before "
    "anything is marked: a wrong drawing sets out a wrong house, squarely."
)
MEASURED = (
    "A figure is no better than the tape: one steel tape for the whole job, pulled flat and equally hard, "
    "read by one person, called back by another. Hold a mark to the zero, not to the hook."
)
NOTHING_IS_STRONG = (
    "None of this tells that a slab, a packer, a frame or a fixing is strong enough, nor that a wall past a "
    "tolerance may stay. The person who leads the work looks, and decides; where strength, bearing or "
    "weathering is in question, the engineer or the designer does."
)
