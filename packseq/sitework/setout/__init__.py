"""The lines to mark on the slab before the frames come: see docs/setout.md."""

from packseq.sitework.setout.build import set_out
from packseq.sitework.setout.model import Choices, GridLine, Rectangle, SetOut

__all__ = ["Choices", "GridLine", "Rectangle", "SetOut", "set_out"]
