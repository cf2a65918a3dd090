"""Reading a house and planning its stand-up."""

from __future__ import annotations

from packseq.cli.options import (
    AsJson,
    DirectionOption,
    Folder,
    Force,
    LapOption,
    Limit,
    PlanFile,
    PlanOut,
    Seed,
)


def check(folder: Folder, *, as_json: AsJson = False) -> None:
    """Read a scenario, check it, and show what was understood."""
    from packseq.cli.checking import check_scenario  # noqa: PLC0415

    check_scenario(folder, as_json=as_json)


def plan(
    folder: Folder,
    *,
    out: PlanOut = None,
    limit_s: Limit = 60.0,
    seed: Seed = 0,
    lap: LapOption = None,
    direction: DirectionOption = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Find the stand order with the fewest extra lifts.

    Then with the least walking. Ctrl-C ends the search early and keeps the best plan found by then.
    """
    from packseq.cli.choices import Choices  # noqa: PLC0415
    from packseq.cli.planning import PlanJob, plan_scenario  # noqa: PLC0415

    job = PlanJob(folder, Choices(lap, direction), limit_s=limit_s, seed=seed, out=out, force=force)
    plan_scenario(job, as_json=as_json)


def compare(folder: Folder, *, limit_s: Limit = 120.0, as_json: AsJson = False) -> None:
    """Show the same job under other choices, side by side.

    And what its extra lifts come from; then the packs as delivered against the best load. The limit is for
    all choices together, half as much again for the load. Ctrl-C ends it early and shows what there is.
    """
    from packseq.cli.comparing import compare_scenario  # noqa: PLC0415

    compare_scenario(folder, limit_s=limit_s, as_json=as_json)


def verify(
    folder: Folder,
    plan_file: PlanFile,
    *,
    lap: LapOption = None,
    direction: DirectionOption = None,
    as_json: AsJson = False,
) -> None:
    """Replay a plan: every broken rule by name, and its true cost.

    For a plan made with --lap or --direction, say the same here.
    """
    from packseq.cli.choices import Choices  # noqa: PLC0415
    from packseq.cli.verifying import verify_plan  # noqa: PLC0415

    verify_plan(folder, plan_file, Choices(lap, direction), as_json=as_json)
