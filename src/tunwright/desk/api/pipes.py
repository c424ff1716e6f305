"""The pipework with its valves as the page has turned them."""

from __future__ import annotations

from typing import Any

from pydantic import ConfigDict, Field

from tunwright.build.problems import BuildProblems
from tunwright.desk import drafts, store
from tunwright.desk.api.route import Call, route
from tunwright.desk.api.shapes import Asked, Given, WrongPlace
from tunwright.desk.live import problem_data
from tunwright.desk.pipes import pipes_look
from tunwright.desk.preferences import units_of


class SetPipes(Asked):
    """How the pipework is set; what is left out is as in the duty."""

    duty: str = Field(default="", max_length=60, description="The duty to begin with; empty takes the first.")
    openings: dict[str, float] | None = Field(default=None, description="How far each valve is open, 0 to 1.")
    engine: float | None = Field(default=None, ge=0.0, le=10_000.0, description="Engine speed [rpm]; 0 stands still.")
    fill: float = Field(default=1.0, ge=0.0, le=1.0, description="Part of the net volume.")


class Valve(Given):
    """A valve that can be turned."""

    name: str
    purpose: str
    share: float = Field(description="How far it is open, 0 to 1.")


class PipesLooked(Given):
    """The pipework as it is set. A text that does not read gives its problems; there is false without pipework."""

    model_config = ConfigDict(extra="forbid")
    problems: list[WrongPlace] = Field(default=[])
    there: bool = False
    duties: list[str] = Field(default=[])
    duty: str = ""
    fill: float = 1.0
    engine: int | None = Field(default=None, description="Engine speed [rpm], null where it stands still.")
    engine_range: list[int] | None = Field(default=None, description="Least and greatest engine speed [rpm].")
    valves: list[Valve] = Field(default=[])
    svg: str = Field(default="", description="The schematic.")
    said: list[list[str]] = Field(default=[], description="What flows, in pairs of words and figures.")


@route("POST", "/api/builds/{slug}/pipes", asks=SetPipes, answers=PipesLooked)
def pipes(call: Call, slug: str) -> PipesLooked:
    """The draft's pipework in a duty, its valves and engine as they are set: the schematic and what flows."""
    text = drafts.held(store.find(slug), call.owner).text
    wish: dict[str, Any] = call.body.model_dump(exclude_unset=True)
    try:
        return PipesLooked(**pipes_look(text, units_of(call.owner), wish))
    except BuildProblems as broken:
        return PipesLooked(problems=[WrongPlace(**problem_data(one)) for one in broken.problems])
