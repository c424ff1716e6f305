"""The base of every table of a build file: unknown keys refused, sense of the values checked, all errors kept."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from typing import Any, NoReturn

from pydantic import BaseModel, ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError


@dataclass(frozen=True)
class Wrong:
    """Something in a table that does not make sense.

    path: keys and list positions (from 0) below the table; empty for the table itself
    message: what is wrong, a full sentence
    given: what was written
    allowed: what may be written
    example: what would do, as it is typed: a value, quotes included, or `key = value` beside it; empty where that
        depends on more than one key
    """

    path: tuple[str | int, ...]
    message: str
    given: str = ""
    allowed: str = ""
    example: str = ""


class NotKnown(Exception):
    """A value was asked for that the file does not state, or not readably."""


class Unknown:
    """Stands for a value that could not be read, so that the rest can still be checked; any use of it ends the check.

    Only `is` and `is not` may be asked of it.
    """

    def _stop(self, *_: object) -> NoReturn:
        raise NotKnown

    __bool__ = __eq__ = __ne__ = __lt__ = __le__ = __gt__ = __ge__ = __hash__ = _stop
    __float__ = __int__ = __len__ = __iter__ = __contains__ = __getitem__ = __str__ = __format__ = _stop
    __add__ = __radd__ = __sub__ = __rsub__ = __mul__ = __rmul__ = __truediv__ = __rtruediv__ = __neg__ = __abs__ = (
        _stop
    )

    def __getattr__(self, name: str) -> NoReturn:
        """No attribute is known."""
        self._stop(name)


UNKNOWN = Unknown()


def as_far_as_known(*checks: Iterator[Wrong]) -> Iterator[Wrong]:
    """What several checks find; one that needs a value nobody stated ends, the others go on.

    checks: the checks, none of them begun
    """
    for check in checks:
        with suppress(NotKnown):
            yield from check


class Table(BaseModel):
    """A table of the build file."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    def wrongs(self) -> Iterator[Wrong]:
        """What does not fit together in this table; the tables below it are looked at on their own."""
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
