"""What every record of a plan file is made of."""

from __future__ import annotations

from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

FURTHEST_MM = 100_000_000.0
"""No coordinate or size lies further out than this (100 km): keeps every distance finite."""


def _printable(text: str) -> str:
    if not text.isprintable():
        raise ValueError("has characters that cannot be printed")
    return text


Mm = Annotated[float, Field(allow_inf_nan=False, ge=-FURTHEST_MM, le=FURTHEST_MM)]
Whole = Annotated[int, Field(ge=0, le=10**15)]
Name = Annotated[str, Field(min_length=1, max_length=20), AfterValidator(_printable)]
Words = Annotated[str, Field(max_length=500), AfterValidator(_printable)]


class Record(BaseModel):
    """Base of everything in a plan file: frozen, unknown fields refused."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)
