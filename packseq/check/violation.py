"""What the replay finds wrong."""

from __future__ import annotations

from dataclasses import dataclass

PLAN_FILE = "plan-file"
"""Named in place of a rule where the plan says something that is not so."""


@dataclass(frozen=True, slots=True)
class Violation:
    """One broken rule, by its name in docs/rules.md, or `PLAN_FILE`.

    `move_number` is the place of the move in the plan, from 1; None for what concerns no one move.
    """

    rule: str
    move_number: int | None
    text: str

    def __str__(self) -> str:
        where = "" if self.move_number is None else f"move {self.move_number}, "
        return f"{where}{self.rule}: {self.text}"
