"""The documents name commands, options and places that there are."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import typer

from packseq.cli.app import app
from packseq.cli.commands import COMMANDS

ROOT = Path(__file__).parents[2]
DOCUMENTS = sorted([*ROOT.glob("*.md"), *ROOT.glob("docs/*.md"), *ROOT.glob("scenarios/*/NOTE.md")])
GROUP = typer.main.get_command(app)
OPTIONS = {
    name: {option for parameter in command.params for option in parameter.opts + parameter.secondary_opts}
    | {"--help"}
    for name, command in GROUP.commands.items()  # type: ignore[attr-defined]
}


def called(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def without_code(text: str) -> str:
    return re.sub(r"```.*?```|`[^`\n]*`", "", text, flags=re.DOTALL)


def anchors(path: Path) -> set[str]:
    """Return the places in a document that a link may lead to."""
    headings = re.findall(r"^#+ (.*)$", path.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.casefold()).replace(" ", "-") for heading in headings}


def test_there_are_documents() -> None:
    assert {"README.md", "DEVELOPERS.md", "docs/entry.md"} <= set(map(called, DOCUMENTS))


@pytest.mark.parametrize("path", DOCUMENTS, ids=called)
def test_every_command_and_option_named_is_there(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    code = "\n".join(one or two for one, two in re.findall(r"```\w*\n(.*?)```|`([^`\n]+)`", text, re.DOTALL))
    wrong = []
    for line in code.replace("\\\n", " ").splitlines():
        for name, rest in re.findall(r"\bpackseq ([a-z]+)\b([^|;&#]*)", line):
            if name not in COMMANDS:
                wrong.append(f"packseq {name}")
                continue
            wrong += [
                f"packseq {name} {option}"
                for option in re.findall(r"--[a-z][a-z-]*", rest)
                if option not in OPTIONS[name]
            ]
    assert wrong == []


@pytest.mark.parametrize("path", DOCUMENTS, ids=called)
def test_every_option_named_by_itself_belongs_to_a_command(path: Path) -> None:
    every = {option for options in OPTIONS.values() for option in options} | {"--version"}
    alone = re.findall(r"`(--[a-z][a-z-]*)", path.read_text(encoding="utf-8"))
    # These belong to other programs.
    assert set(alone) - every - {"--check"} == set()


@pytest.mark.parametrize("path", DOCUMENTS, ids=called)
def test_every_link_leads_somewhere(path: Path) -> None:
    wrong = []
    for target in re.findall(r"\]\(([^)\s]+)\)", without_code(path.read_text(encoding="utf-8"))):
        if target.startswith(("http", "mailto")):
            continue
        file, _, anchor = target.partition("#")
        there = (path.parent / file).resolve() if file else path
        if not there.exists() or (anchor and anchor not in anchors(there)):
            wrong.append(target)
    assert wrong == []


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_command_has_one_row_in_the_readme_and_a_document(name: str) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert len(re.findall(rf"^\| `packseq {name}\b", readme, re.MULTILINE)) == 1
    assert any(f"packseq {name} " in path.read_text(encoding="utf-8") for path in ROOT.glob("docs/*.md"))


def test_the_readme_leads_to_every_document_once_and_the_developers_table_has_no_part_twice() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8").partition("## More")[2]
    links = re.findall(r"\]\((docs/[a-z]+\.md)\)", readme)
    assert sorted(links) == sorted(called(path) for path in ROOT.glob("docs/*.md"))
    table = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Layout")[2]
    parts = [part for cell in re.findall(r"^\| (`.*?`) \|", table, re.MULTILINE) for part in cell.split(", ")]
    assert len(parts) == len(set(parts))
