"""The draft as triangles, for the picture that can be turned."""

from __future__ import annotations

import base64
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from pydantic import Field

from tunwright.desk import drafts, store
from tunwright.desk.api.looking import State
from tunwright.desk.api.route import Call, route
from tunwright.desk.api.shapes import Given
from tunwright.desk.live import assessed, load_state
from tunwright.desk.preferences import units_of
from tunwright.sheets import words
from tunwright.sheets.mesh import Cut, MeshPart, Role, vehicle_mesh
from tunwright.sheets.views.items import not_drawn
from tunwright.sheets.views.surfaces import water_volumes
from tunwright.sheets.views.vehicle import Vehicle

_PACKED = "base64 of little-endian {kind}: {what}."


class Wanted(State):
    """A load state, and which parts are asked for."""

    only: Literal["all", "water"] = Field(default="all", description="water leaves out what no load state changes.")


class SolidPart(Given):
    """A part of the vehicle, in metres: x rearwards from the first axle, y to the right, z up from the road."""

    key: str
    name: str
    role: Role = Field(description="What its colour follows.")
    see_through: bool
    cut: Cut = Field(
        description="What a plane through it shows: line of a plate, face of a body, face of the water; "
        "room is a plate that keeps water out."
    )
    vertices: str = Field(description=_PACKED.format(kind="float32", what="x, y, z of each point"))
    triangles: str = Field(description=_PACKED.format(kind="uint32", what="three points of each triangle"))
    edges: str = Field(description=_PACKED.format(kind="uint32", what="two points of each line"))


class Solid(Given):
    """The vehicle in one load state."""

    title: str
    state_words: str
    water: str = Field(description="How much water that is.")
    units: Literal["metric", "us"] = Field(description="Units to show lengths in; the mesh is in metres.")
    count: int = Field(description="Triangles in all.")
    guesses: list[str] = Field(description="What is drawn from usual sizes until measured.")
    left_out: list[str] = Field(description="What is weighed but has no sizes to draw.")
    parts: list[SolidPart]


@route("GET", "/api/builds/{slug}/mesh", query=Wanted, answers=Solid)
def mesh(call: Call, slug: str) -> Solid:
    """The draft as triangles: tank, plates, frame, wheels, cab, boxes, and its water in one load state."""
    assessment = assessed(drafts.held(store.find(slug), call.owner).text, units_of(call.owner))
    state, vehicle = load_state(assessment, call.query.model_dump()), Vehicle(assessment)
    parts = [one for one in vehicle_mesh(assessment, state=state) if call.query.only == "all" or one.cut == "water"]
    return Solid(
        title=assessment.build.order.title,
        state_words=state.words,
        water=words.volume(float(water_volumes(assessment.truck, state).sum()), assessment),
        units=assessment.build.order.units,
        count=sum(len(one.triangles) for one in parts),
        guesses=list(vehicle.guesses),
        left_out=list(not_drawn(vehicle)),
        parts=[_packed(one) for one in parts],
    )


def _packed(one: MeshPart) -> SolidPart:
    return SolidPart(
        key=one.key,
        name=one.name,
        role=one.role,
        see_through=one.see_through,
        cut=one.cut,
        vertices=_base64(one.vertices, "<f4"),
        triangles=_base64(one.triangles, "<u4"),
        edges=_base64(one.edges, "<u4"),
    )


def _base64(values: NDArray[np.float32] | NDArray[np.uint32], kind: str) -> str:
    return base64.b64encode(values.astype(kind).tobytes()).decode("ascii")
