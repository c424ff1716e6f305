"""Shapes of a look at a draft."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import ConfigDict, Field

from tunwright.desk.api.draft_shapes import SetValue
from tunwright.desk.api.shapes import Asked, Given, WrongPlace

Part = Literal["side", "rear", "plan", "loads", "first", "findings", "remedies", "window", "form", "charts", "frame"]


class State(Asked):
    """The load state shown."""

    fill: float = Field(default=1.0, ge=0.0, le=1.0, description="Part of the net volume.")
    grade: float = Field(default=0.0, ge=-0.5, le=0.5, description="Slope along the road, nose up.")
    braking: float = Field(default=0.0, ge=0.0, le=1.0, description="Deceleration over gravity.")
    slope: float = Field(default=0.0, ge=-0.5, le=0.5, description="Slope across, right side high.")
    crew: bool = True
    scale: float = Field(default=50.0, ge=20.0, le=100.0, description="1:scale the views are lettered for.")


class LookAt(Asked):
    """What is to be shown."""

    text: str | None = Field(default=None, description="The text; null takes the draft.")
    changes: list[SetValue] = Field(default=[], max_length=200)
    state: State = State()
    page: str = Field(
        default="", max_length=40, description="Mark of the page that asks; its older looks that wait are dropped."
    )
    hurry: bool = Field(
        default=False, description="A side view of a tank of a new shape comes without the window; `later` says so."
    )
    parts: list[Part] = Field(default=["side", "loads", "findings", "window"], max_length=12)


class Picture(Given):
    """A drawing."""

    svg: str


class Looked(Given):
    """What was asked for. A text that does not read gives its problems and no drawing."""

    model_config = ConfigDict(extra="allow")
    problems: list[WrongPlace]
    ms: float = Field(description="Time taken [ms].")
    state_words: str | None = None
    side: Picture | None = None
    rear: Picture | None = None
    plan: Picture | None = None
    loads: dict[str, Any] | None = None
    first: list[dict[str, Any]] | None = Field(default=None, description="The findings that need no frame model.")
    findings: list[dict[str, Any]] | None = None
    remedies: dict[str, Any] | None = None
    window: dict[str, Any] | None = None
    fill_limit: dict[str, Any] | None = None
    volumes: dict[str, Any] | None = None
    verdict: str | None = None
    counts: dict[str, int] | None = None
    answer: str | None = None
    charts: dict[str, dict[str, str]] | None = None
    frame: dict[str, Any] | None = None
    later: list[Part] | None = Field(default=None, description="Parts left incomplete in a hurry: ask again.")
    form: list[dict[str, Any]] | None = None


class Explain(Asked):
    """Of which text."""

    text: Literal["draft", "newest"] = "newest"


class Explained(Given):
    """A finding with its working, rule, remedy and the assumed values it rests on."""

    model_config = ConfigDict(extra="allow")
    key: str
    question: str
    verdict: str
    working: list[dict[str, Any]]
    rule: dict[str, Any]
    remedy: dict[str, Any] | None
    assumed: list[str]


class Form(Given):
    """The form of the draft, by part of the build."""

    parts: list[dict[str, Any]]
