"""The vehicle as triangles, for a picture that can be turned: neutral of any way to draw it."""

from __future__ import annotations

from tunwright.checks.assess import Assessment
from tunwright.sheets.mesh.chassis import chassis_mesh
from tunwright.sheets.mesh.part import Cut, MeshPart, Role
from tunwright.sheets.mesh.tank import Fineness, tank_mesh
from tunwright.sheets.mesh.water import water_mesh
from tunwright.sheets.views.surfaces import full_state
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.truck.states import LoadState

__all__ = ["MOST", "Cut", "MeshPart", "Role", "vehicle_mesh"]

MOST = 60_000
"""Triangles a picture stays under."""

_TRIED = (Fineness(112, 32, holes=True), Fineness(64, 20, holes=True), Fineness(40, 12, holes=False))


def vehicle_mesh(assessment: Assessment, *, state: LoadState | None = None) -> tuple[MeshPart, ...]:
    """The vehicle as parts of triangles, in vehicle coordinates, as fine as fits under `MOST`.

    assessment: the assessment of the build
    state: the load state whose water is shown; full and level where none is given
    """
    vehicle, state = Vehicle(assessment), state or full_state(assessment.truck)
    parts: tuple[MeshPart, ...] = ()
    for fineness in _TRIED:
        parts = (
            *chassis_mesh(vehicle, state, fineness.wheel),
            *tank_mesh(vehicle.truck, fineness),
            *water_mesh(vehicle.truck, state, fineness.around),
        )
        if sum(len(one.triangles) for one in parts) < MOST:
            break
    return parts
