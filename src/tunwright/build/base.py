"""The base of every table of a build file: unknown keys refused, sense of the values checked, all errors kept."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError


@dataclass(frozen=True)
class Wrong:
    """Something in a table that does not make sense.

    path: keys and list positions (from 0) below the table; empty for the table itself
    message: what is wrong, a full sentence
    given: what was written
    allowed: what may be written
    example: a value that would do
    """

    path: tuple[str | int, ...]
    message: str
    given: str = ""
    allowed: str = ""
    example: str = ""


class Table(BaseModel):
    """A table of the build file."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    def wrongs(self) -> Iterator[Wrong]:
        """What does not fit together in this table; the tables below it are known to be right on their own."""
        return iter(())

    @model_validator(mode="after")
    def _make_sense(self) -> Table:
        found = list(self.wrongs())
        if found:
            raise PydanticCustomError("sense", "does not make sense", {"wrongs": found})
        return self


def key(description: str, default: Any = ..., *, fact: bool = False, example: str | None = None, **more: Any) -> Any:
    """A key of a table.

    description: what the value is, for the manual and the editor
    default: value where the key is left out; required unless given
    fact: a fact about the delivered chassis: taken as assumed where its origin is not stated
    example: the value as it would be typed, quotes included, where the type has none of its own
    """
    extra: dict[str, Any] = {"x-fact": fact}
    if example is not None:
        extra["x-example"] = example
    return Field(default, description=description, json_schema_extra=extra, **more)
