"""What the API asks for and answers with."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Literal
from uuid import UUID

from pydantic import BaseModel, ConfigDict, Field, RootModel

Verdict = Literal["holds", "close", "fails", "open"]


class Asked(BaseModel):
    """Something asked for; keys that are not known are refused."""

    model_config = ConfigDict(extra="forbid")


class Given(BaseModel):
    """Something answered."""


class Nothing(Given):
    """Done; there is nothing to say."""


class WrongPlace(Given):
    """One problem of a build file or a request."""

    line: int | None = Field(description="Line in the file, from 1.")
    path: str = Field(description="Key, such as chassis.axle[2].kerb_load.")
    given: str
    message: str
    allowed: str
    example: str


class Said(Given):
    """Why something is refused."""

    words: str
    problems: list[WrongPlace]


class Refused(Given):
    """Every answer of 400 and above. `id` is noted in the desk's log."""

    error: Said
    id: str
    draft: dict[str, Any] | None = Field(default=None, description="With 409: the draft as it stands.")
    newest: int | None = Field(default=None, description="With 409: the revision saved meanwhile.")


class BuildQuery(Asked):
    """Which builds."""

    archived: bool = False


class BuildRow(Given):
    """A build in the list."""

    slug: str
    title: str
    stage: str
    archived: bool
    updated: datetime
    author: str = Field(description="Who saved the newest revision.")
    verdict: Verdict
    counts: dict[str, int]
    revision: int
    side_svg_url: str


class BuildList(Given):
    """Builds, the last changed first."""

    builds: list[BuildRow]


class FromDemo(Asked):
    """Start from a demo."""

    source: Literal["demo"] = Field(alias="from")
    demo: str


class FromText(Asked):
    """Start from a build file."""

    source: Literal["text"] = Field(alias="from")
    text: str
    name: str = Field(default="build.toml", max_length=255)


class FromCopy(Asked):
    """Start from a copy of another build."""

    source: Literal["copy"] = Field(alias="from")
    build: str


class FromNew(Asked):
    """Start from an explained file to fill in."""

    source: Literal["new"] = Field(alias="from")
    layout: Literal["4x2", "6x4", "8x4"] = "6x4"
    units: Literal["metric", "us"] = "metric"
    title: str = Field(default="New water carrier", max_length=200)


class NewBuild(RootModel[Annotated[FromDemo | FromText | FromCopy | FromNew, Field(discriminator="source")]]):
    """One of the four ways to start."""


class Named(Given):
    """A build made."""

    slug: str


class RevisionRow(Given):
    """A revision; its text has an address of its own."""

    number: int
    sha256: str
    parent_sha256: str
    author: str
    note: str
    created: datetime
    summary: dict[str, Any]


class DraftHead(Given):
    """A draft without its text."""

    version: int
    base: int
    updated: datetime
    changed: bool


class BuildWhole(Given):
    """A build with its revisions, newest first."""

    slug: str
    title: str
    stage: str
    archived: bool
    revisions: list[RevisionRow]
    draft: DraftHead
    chain_faults: list[str] = Field(description="What is wrong with the chain of hashes; empty when nothing is.")


class Archive(Asked):
    """Put away or take back."""

    archived: bool


class Diff(Asked):
    """Two revisions; `to` may be the draft."""

    before: int = Field(alias="from", ge=1)
    to: Annotated[int, Field(ge=1)] | Literal["draft"]


class DiffLine(Given):
    """A line: kept (" "), new (+), gone (-), or lines left out (…)."""

    op: Literal[" ", "+", "-", "…"]
    line: str
    before: int | None = Field(serialization_alias="from")
    to: int | None


class DiffFigure(Given):
    """A figure or verdict that changed."""

    what: str
    before: str = Field(serialization_alias="from")
    to: str


class Changes(Given):
    """What changed."""

    text: list[DiffLine]
    figures: list[DiffFigure]


class Job(Given):
    """A sheet on its way."""

    id: UUID
    kind: str
    of: str
    state: Literal["waiting", "running", "done", "failed"]
    progress: float
    words: str
    url: str | None
    created: datetime
    finished: datetime | None
