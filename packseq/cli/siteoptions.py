"""Options of the commands about the site, each written once: a command and the booklet share them."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packseq.cli.ranges import between, each_between
from packseq.sitework.anchornames import AnchorName
from packseq.sitework.braces.choices import Side
from packseq.sitework.lifts.niosh import MOST_HOURS, Coupling
from packseq.sitework.usual import LEAST_OFFSET_MM, MOST_OFFSET_MM, MOST_REACH_MM, MOST_WITHIN_MM

Offset = Annotated[
    float,
    typer.Option(
        "--offset",
        metavar="MM",
        callback=between(LEAST_OFFSET_MM, MOST_OFFSET_MM),
        help="How far a line lies off the face of the frame it is for.",
    ),
]
ShareWithin = Annotated[
    float,
    typer.Option(
        "--share-within",
        metavar="MM",
        callback=between(0, MOST_REACH_MM),
        help="An internal wall shares a line that lies no further from its face than this.",
    ),
]
Measured = Annotated[
    Path | None, typer.Option("--measured", metavar="FILE.csv", help="What was measured; see --form.")
]
Form = Annotated[
    Path | None,
    typer.Option("--form", metavar="FILE.csv", help="Write an empty file to fill in, made for this house."),
]
Levels = Annotated[
    Path | None,
    typer.Option("--levels", metavar="FILE.csv", help="Level readings along the plate lines."),
]
LevelForm = Annotated[
    Path | None,
    typer.Option("--level-form", metavar="FILE.csv", help="Write an empty file of level readings."),
]
Within = Annotated[
    float,
    typer.Option(
        "--within",
        metavar="MM",
        callback=between(0, MOST_WITHIN_MM),
        help="How far a face may come from where it is drawn to the slab edge and count as drawn.",
    ),
]
LevelWithin = Annotated[
    float,
    typer.Option(
        "--level-within",
        metavar="MM",
        callback=between(0, MOST_WITHIN_MM),
        help="How far off the mean a station may lie and count as level.",
    ),
]
Tolerances = Annotated[
    str,
    typer.Option(
        "--tolerances", metavar="NAME|FILE.toml", help="A published set of limits, or one of your own."
    ),
]

Gust = Annotated[
    float | None,
    typer.Option(
        "--gust", metavar="M_PER_S", callback=between(0, 100), help="The forecast gust, in metres a second."
    ),
]
Each = Annotated[
    float | None,
    typer.Option(
        "--each",
        metavar="KG",
        callback=between(1, 100),
        help="What one person could lift alone, for the team guidance. [default: the crew's share]",
    ),
]
Reach = Annotated[
    float,
    typer.Option(
        "--reach", metavar="MM", callback=between(100, 1000), help="From the ankles out to the hands."
    ),
]
Hands = Annotated[
    float | None,
    typer.Option(
        "--hands",
        metavar="MM",
        callback=between(0, 2500),
        help="Height of the hands at lift-off. [default: from where each frame lies]",
    ),
]
Turn = Annotated[
    float,
    typer.Option(
        "--turn", metavar="DEGREES", callback=between(0, 180), help="How far the load lies to the side."
    ),
]
PerMinute = Annotated[
    float, typer.Option("--per-minute", metavar="LIFTS", callback=between(0, 60), help="Lifts a minute.")
]
Hours = Annotated[
    float,
    typer.Option(
        "--hours",
        metavar="HOURS",
        callback=between(0.1, MOST_HOURS),
        help="Hours of lifting work in the day.",
    ),
]
Grip = Annotated[Coupling, typer.Option("--grip", help="How good the grip is.")]
Push = Annotated[
    float,
    typer.Option(
        "--push",
        metavar="KG",
        callback=between(1, 50),
        help="What one person can push and keep up, in kg of force.",
    ),
]

Spacing = Annotated[
    float,
    typer.Option(
        "--spacing", metavar="MM", callback=between(600, 10000), help="Most from one brace to the next."
    ),
]
FromEnd = Annotated[
    float,
    typer.Option(
        "--from-end", metavar="MM", callback=between(100, 2000), help="Most from an end to its brace."
    ),
]
Angle = Annotated[
    float,
    typer.Option("--angle", metavar="DEGREES", callback=between(30, 60), help="Wanted angle with the floor."),
]
BraceSide = Annotated[
    Side, typer.Option("--side", help="Where an external frame's braces go where both sides have room.")
]
Permanent = Annotated[
    list[float] | None,
    typer.Option(
        "--permanent",
        metavar="KN",
        callback=each_between(0, 10_000),
        help="The engineer's racking force of the permanent bracing, for each direction.",
    ),
]

Stations = Annotated[
    float,
    typer.Option(
        "--stations",
        metavar="MM",
        callback=between(500, 10000),
        help="Most from one reading to the next.",
    ),
]
Schedule = Annotated[
    Path | None,
    typer.Option("--schedule", metavar="FILE.csv", help="The fixing schedule: what, where, how_many."),
]
DeliveredFile = Annotated[
    Path | None,
    typer.Option("--delivered", metavar="FILE.csv", help="What was delivered: what, how_many."),
]
BracingFile = Annotated[
    Path | None,
    typer.Option("--bracing", metavar="FILE.csv", help="The bracing walls: frame, bracing_units."),
]
Anchors = Annotated[
    AnchorName, typer.Option("--anchors", help="The rule for bottom plates of external frames.")
]
InternalAnchors = Annotated[
    AnchorName | None,
    typer.Option("--internal-anchors", help="The rule for internal ones. [default: the same]"),
]
