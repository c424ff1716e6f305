"""What the sheet says beside the views: axle loads, masses, notes, and the fields of its title block."""

from __future__ import annotations

import math
from dataclasses import replace

from tunwright import __version__
from tunwright.sheets.lifted import state_words
from tunwright.sheets.views.items import not_drawn
from tunwright.sheets.views.loads import carried
from tunwright.sheets.views.paper import LARGE, Cell
from tunwright.sheets.views.surfaces import water_volumes
from tunwright.sheets.views.vehicle import Vehicle
from tunwright.sheets.views.wording import Wording
from tunwright.truck.states import LoadState

CAUTION = "Drawn by the program from the build file; check before use."
AID = "Figures are an aid for a competent person, never an approval."
LEANING = "The vehicle is drawn level; the arrow shows which way gravity acts in it. Loads press square to the road."
PLACES = (
    "Places count from the first axle rearwards, heights from the road. The tank's sizes are inside sizes, its length "
    "is between the head tangent lines."
)
BLOCK_WIDTH = 115.0
UNKNOWN = "–"
Rows = list[list[str]]


def load_rows(vehicle: Vehicle, state: LoadState) -> Rows:
    """Axle loads: bare, empty with the crew of the state, in the state, and the limit."""
    wording = vehicle.wording
    level = replace(state, grade=0.0, slope=0.0, braking=0.0, surface="settled")
    empty = replace(level, sort="even", fill=0.0, parts=tuple(0.0 for _ in state.parts), brim=False)
    table = vehicle.truck.loading.table([empty, state])
    kerb = vehicle.truck.axles.stances[state.stance].kerb
    rows = [["axle or group", "bare", "empty", "as shown", "limit"]]
    for dry, wet in zip(carried(vehicle, table, 0), carried(vehicle, table, 1), strict=True):
        loads = (float(kerb[list(wet.support.axles)].sum()), dry.load, wet.load)
        limit = f"{wet.of} {_mass(wording, wet.limit)}".strip()
        rows.append([wet.name, *(_mass(wording, load) for load in loads), limit])
    whole = (vehicle.truck.axles.kerb_mass, float(table.gross[0]), float(table.gross[1]))
    rows.append(["whole vehicle", *(_mass(wording, m) for m in (*whole, float(vehicle.chassis.gross_rating)))])
    return rows


def _mass(wording: Wording, value: float) -> str:
    return wording.bare(value, "mass") if math.isfinite(value) else UNKNOWN


def mass_rows(vehicle: Vehicle, state: LoadState) -> Rows:
    """What the vehicle weighs, part by part, and where each part's centre is."""
    truck, wording = vehicle.truck, vehicle.wording
    table = truck.loading.table([state])
    persons = truck.weights.crew_aboard if state.crew else truck.weights.crew_away
    height = vehicle.chassis.cg_height
    bare = (truck.axles.kerb_x, math.nan if height is None else float(height))
    entries: list[tuple[str, float, float, float]] = [("bare chassis", truck.axles.kerb_mass, *bare)]
    lumps = [(lump.name, lump.mass) for lump in truck.weights.lumps] + [("persons", persons)]
    entries += [(name, m.mass, float(m.centre[0]), float(m.centre[2])) for name, m in lumps if m.mass]
    if table.water_mass[0] > 0.0:
        x, _, z = table.water_at[0].tolist()
        entries.append(("water", float(table.water_mass[0]), x, z))
    x, _, z = table.centre[0].tolist()
    entries.append(("whole vehicle", float(table.gross[0]), x, z))
    rows = [["part", "mass", "centre at", "height"]]
    for name, mass, *at in entries:
        places = (wording.length(value) if math.isfinite(value) else UNKNOWN for value in at)
        rows.append([name, _mass(wording, mass), *places])
    return rows


def notes(vehicle: Vehicle, state: LoadState) -> list[str]:
    """What a reader has to know beside the views."""
    wording = vehicle.wording
    water = wording.words(float(water_volumes(vehicle.truck, state).sum()), "volume")
    found = [
        f"Shown: {state_words(vehicle.truck, state)}, {water} of water." + ("" if state.level else f" {LEANING}"),
        PLACES,
    ]
    if vehicle.guesses:
        found.append(f"Dashed, drawn from usual sizes until measured: {'; '.join(vehicle.guesses)}.")
    left_out = not_drawn(vehicle)
    if left_out:
        found.append(f"Weighed but not drawn, no sizes given: {'; '.join(left_out)}.")
    count = len(vehicle.assessment.assumed)
    if count:
        found.append(f"{count} input{'s are' if count > 1 else ' is'} assumed, not measured or from the maker.")
    return [*found, AID]


def title_rows(
    vehicle: Vehicle, sheet: str, *, scale: float, paper: str, build_hash: str | None
) -> list[tuple[float, list[Cell]]]:
    """The title block."""
    order, wording = vehicle.build.order, vehicle.wording
    units = f"{wording.unit('length')}, {wording.unit('mass')}"
    return [
        (13.0, [Cell("title", order.title, 77.0, LARGE, bold=True), Cell("sheet", sheet, 38.0, 2.5, bold=True)]),
        (
            10.0,
            [
                Cell("customer", order.customer or UNKNOWN, 47.0),
                Cell("job number", order.number or UNKNOWN, 26.0),
                Cell("date of order", order.date or UNKNOWN, 22.0),
                Cell("paper", paper, 20.0),
            ],
        ),
        (
            10.0,
            [
                Cell("chassis", vehicle.chassis.name, 47.0),
                Cell("build file", build_hash[:12] if build_hash else UNKNOWN, 26.0),
                Cell("units", units, 22.0),
                Cell("scale", f"1:{scale:g}", 20.0),
            ],
        ),
        (5.5, [Cell("", CAUTION, 89.0, 2.2), Cell("", f"Tunwright {__version__}", 26.0, 2.0)]),
    ]
