"""What a scenario may hold: caps and sane sizes, each in one place.

They keep slips of the finger out (a height in metres, a coordinate with a digit too
many) and reading quick; none of them comes from a standard.
"""

from __future__ import annotations

MOST_TABLE_BYTES = 2_000_000
MOST_SITE_BYTES = 200_000
MOST_WORKBOOK_BYTES = 5_000_000
"""Most bytes in one file: several times what the largest scenario needs."""

MOST_LINE_LENGTH = 2000
"""Most characters in a line of site.toml."""

MOST_FRAMES = 1000
MOST_OPENINGS = 5000
MOST_PACKS = 100
MOST_SPOTS = 200
MOST_GAPS = 200
MOST_AREAS = 200
MOST_POINTS = 1000
MOST_PLACES = 50
MOST_LEVELS = 20
MOST_GROUPS = 100

HINTED_FAULTS = 100
"""Faults in a table before names are no longer guessed at: it is another job's file."""

NAME_LENGTH = 20
TITLE_LENGTH = 80

COORDINATE_MM = 1_000_000
"""Coordinates lie within 1 km of the origin."""

LEAST_FRAME_MM, MOST_FRAME_MM = 100, 20_000
"""Length of a frame: from two 45 mm studs side by side to more than a truck carries."""

LEAST_OPENING_MM = 50

LEAST_HEIGHT_MM, MOST_HEIGHT_MM = 300, 6000
LEAST_THICKNESS_MM, MOST_THICKNESS_MM = 20, 500
MOST_MASS_KG = 5000

MOST_UNPACKED_BYTES = 5_000_000
MOST_SHEET_ROWS = 6000
MOST_SHEET_COLUMNS = 50
"""What a workbook may unpack to, and how far its tables may reach."""
