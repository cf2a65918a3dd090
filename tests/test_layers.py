"""Holds which part of packseq may import which, and where outside libraries may be used."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "packseq"

# A part imports only parts that stand before it.
ORDER = (
    "errors",
    "files",
    "geometry",
    "sheet",
    "scenario",
    "house",
    "entry",
    "routes",
    "plan",
    "drawing",
    "check",
    "baseline",
    "compare",
    "standup",
    "day",
    "loading",
    "sitework",
    "report",
    "page",
    "cli",
)
FORBIDDEN = {(part, solver) for part in ("sitework", "report", "page") for solver in ("standup", "loading")}
# Loading uses standup's rules on the order of standing, its proposed spots and its solver; not its search.
SHARED = {
    "packseq.standup.job",
    "packseq.standup.progress",
    "packseq.standup.rules",
    "packseq.standup.solver",
    "packseq.standup.staging",
    "packseq.standup.takedown",
    "packseq.standup.variables",
}
HOMES = {
    "ortools": {"standup", "loading"},
    "typer": {"cli"},
    "rich": {"report", "cli"},
    "ifcopenshell": {"entry"},
    "openpyxl": {"scenario", "entry"},
}
MODULES = sorted(PACKAGE.rglob("*.py"))


def part_of(path: Path) -> str:
    return path.relative_to(PACKAGE).with_suffix("").parts[0]


def imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path} imports by a relative name"
            yield node.module or ""


def misplaced(part: str, module: str) -> bool:
    """Tell whether a part may not import a module."""
    top, *below = module.split(".")
    if top != "packseq":
        return part not in HOMES.get(top, {part})
    if not below or below[0] == part:
        return False
    if part == "loading" and below[0] == "standup":
        return module not in SHARED
    return ORDER.index(below[0]) > ORDER.index(part) or (part, below[0]) in FORBIDDEN


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_imports_keep_their_direction(path: Path) -> None:
    part = part_of(path)
    if part in {"__init__", "__main__"}:
        return
    assert part in ORDER, f"give {part} its place in the order"
    wrong = [module for module in imported(path) if misplaced(part, module)]
    assert not wrong


@pytest.mark.parametrize(
    ("part", "module"),
    [
        ("check", "packseq.standup.search"),
        ("house", "packseq.plan.model"),
        ("report", "packseq.standup.progress"),
        ("report", "packseq.loading.search"),
        ("loading", "packseq.standup.search"),
        ("sitework", "packseq.standup.search"),
        ("check", "ortools.sat.python"),
        ("report", "typer"),
        ("standup", "rich.text"),
    ],
)
def test_a_misplaced_import_is_seen(part: str, module: str) -> None:
    assert misplaced(part, module)


def test_the_order_names_nothing_that_is_not_there() -> None:
    assert set(ORDER) == {part_of(path) for path in MODULES} - {"__init__", "__main__"}


def test_the_command_line_loads_nothing_heavy() -> None:
    heavy = {
        "shapely",
        "networkx",
        "numpy",
        "scipy",
        "pydantic",
        "ortools",
        "rich",
        "ifcopenshell",
        "openpyxl",
    }
    code = "import sys, packseq.cli; print(*sorted({name.partition('.')[0] for name in sys.modules}))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert heavy.isdisjoint(done.stdout.split())


@pytest.mark.parametrize(
    "module", ["packseq.cli.checking", "packseq.cli.recording", "packseq.cli.standing_now"]
)
def test_checking_a_job_and_noting_what_happened_loads_no_search(module: str) -> None:
    code = f"import sys, {module}; print(*sorted({{name.partition('.')[0] for name in sys.modules}}))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert {"scipy", "ortools"}.isdisjoint(done.stdout.split())
