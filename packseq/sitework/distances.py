"""How far lines lie from walls unless told otherwise; loads nothing, so that the command line may ask."""

OFFSET_MM = 100.0
"""From a frame's face to its line: common practice, no source."""

LEAST_OFFSET_MM, MOST_OFFSET_MM = 20.0, 1000.0
"""Nearer than this a line is lost under the plate's edge; further, it is another wall's."""

REACH_MM = 1500.0
"""An internal wall is measured off a line up to this far from its face: common practice, no source."""

MOST_REACH_MM = 100_000.0
