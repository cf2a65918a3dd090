"""What a crew does unplanned."""

from packseq.baseline.crew import Unplanned
from packseq.baseline.frame_list import by_frame_list
from packseq.baseline.nearest import by_nearest

__all__ = ["Unplanned", "by_frame_list", "by_nearest"]
