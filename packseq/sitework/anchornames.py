"""The names of the rules for bottom-plate fixings; loads nothing, so that the command line may ask."""

from __future__ import annotations

from typing import Literal

AnchorName = Literal["nz-drilled", "us-bolts", "nz-shot"]
"""Each is worked out in `laps.anchors`."""
