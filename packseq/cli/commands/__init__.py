"""Every command and its options, by area; what is heavy is imported inside the command that needs it."""

from collections.abc import Callable, Mapping

from packseq.cli.commands.day import record, replan, status
from packseq.cli.commands.entering import convert, import_, new
from packseq.cli.commands.measuring import readings, setout, slab
from packseq.cli.commands.plant import load
from packseq.cli.commands.showing import draw, page
from packseq.cli.commands.site import braces, fixings, job, laps, lifts
from packseq.cli.commands.standing import check, compare, plan, verify

COMMANDS: Mapping[str, Callable[..., None]] = {
    "new": new,
    "import": import_,
    "convert": convert,
    "check": check,
    "draw": draw,
    "load": load,
    "plan": plan,
    "verify": verify,
    "compare": compare,
    "page": page,
    "record": record,
    "status": status,
    "replan": replan,
    "setout": setout,
    "slab": slab,
    "readings": readings,
    "lifts": lifts,
    "braces": braces,
    "laps": laps,
    "fixings": fixings,
    "job": job,
}

__all__ = ["COMMANDS"]
