"""Every command and its options, by area; what is heavy is imported inside the command that needs it."""

from collections.abc import Callable, Mapping

from packseq.cli.commands.measuring import setout, slab
from packseq.cli.commands.showing import draw, page
from packseq.cli.commands.site import braces, fixings, job, laps, lifts
from packseq.cli.commands.standing import check, plan, verify

COMMANDS: Mapping[str, Callable[..., None]] = {
    "check": check,
    "draw": draw,
    "page": page,
    "plan": plan,
    "verify": verify,
    "setout": setout,
    "slab": slab,
    "lifts": lifts,
    "braces": braces,
    "laps": laps,
    "fixings": fixings,
    "job": job,
}

__all__ = ["COMMANDS"]
