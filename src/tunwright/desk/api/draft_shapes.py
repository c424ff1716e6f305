"""Shapes of drafts."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Literal

from pydantic import Field

from tunwright.desk.api.shapes import Asked, Given, WrongPlace

Step = Annotated[str, Field(max_length=100)] | Annotated[int, Field(ge=0, le=10_000)]
Steps = Annotated[list[Step], Field(min_length=1, max_length=12)]


class OtherDraft(Given):
    """Somebody else's draft."""

    owner: str
    updated: datetime
    base: int


class DraftWhole(Given):
    """A draft; `newest` above `base` means that somebody saved meanwhile."""

    text: str
    version: int
    base: int
    updated: datetime
    others: list[OtherDraft]
    newest: int


class WriteDraft(Asked):
    """A draft as it is to stand."""

    text: str
    version: int = Field(ge=0, description="Version it was made from; 0 where there is no draft yet.")
    base: int | None = Field(default=None, ge=1, description="Revision it began with; null keeps it.")


class Version(Given):
    """The draft's version."""

    version: int


class SetValue(Asked):
    """A value to put in place."""

    path: Steps
    value: Any = Field(default=None, description="As it would be typed; null with no source takes the key away.")
    source: Literal["measured", "maker", "assumed"] | None = None


class SetValues(Asked):
    """Values to put into the draft, comments kept."""

    version: int = Field(ge=0)
    changes: list[SetValue] = Field(min_length=1, max_length=200)


class SetDone(Given):
    """The draft after it."""

    text: str
    version: int
    problems: list[WrongPlace]


class SaveRevision(Asked):
    """Save the draft."""

    version: int = Field(ge=0)
    base: int = Field(ge=1)
    note: str = Field(default="", max_length=2000)
    over: bool = Field(default=False, description="Save also where somebody saved meanwhile.")


class Saved(Given):
    """The revision made."""

    number: int
    sha256: str
