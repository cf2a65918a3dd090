"""What holds unless told otherwise, in mm; loads nothing, so that the command line may show it."""

OFFSET_MM = 100.0
"""From a frame's face to its line: common practice, no source."""

LEAST_OFFSET_MM, MOST_OFFSET_MM = 20.0, 1000.0
"""Nearer than this a line is lost under the plate's edge; further, it is another wall's."""

REACH_MM = 1500.0
"""An internal wall is measured off a line up to this far from its face: common practice, no source."""

MOST_REACH_MM = 100_000.0

WITHIN_MM = 5.0
"""A face this near to where it is drawn to the slab edge is as drawn: the most that NZS 3604 allows for
where walls are, as quoted by BRANZ Build 184."""

LEVEL_MM = 5.0
"""A slab lies within this much of its level: NZS 3109 table 5.2, as quoted by BRANZ Build 184."""

MOST_WITHIN_MM = 1000.0

TOLERANCES = "nz-framing"
"""The set of limits that readings are held against."""
