"""Plausible chassis and tanks to start a build file from, one for each axle layout.

All values are invented within the rough ranges of their class (common practice, no source); none is a maker's.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class AxleStart:
    """An axle to start from.

    name: what it is called
    at: place behind the first axle [m]
    kerb_load: load as weighed, 0 where its group is weighed as one [kg]
    rating: rating [kg]
    tyres: tyres on it
    tyre_rating: rating of one tyre [kg]
    track: distance between the middles of its wheels or pairs [m]
    steered: steered; driven otherwise
    group: group it belongs to, empty for none
    """

    name: str
    at: float
    kerb_load: float
    rating: float
    tyres: int
    tyre_rating: float
    track: float
    steered: bool = False
    group: str = ""


@dataclass(frozen=True)
class Layout:
    """A chassis with a tank to start from.

    name: what the chassis is called
    axles: its axles
    groups: name of a group -> kerb load and rating [kg]
    tyre_radius: loaded radius [m]
    pair_spacing: distance of twin tyres [m]
    baffles: number of baffles
    values: name in the text -> value in SI and its kind
    """

    name: str
    axles: tuple[AxleStart, ...]
    groups: Mapping[str, tuple[float, float]]
    tyre_radius: float
    pair_spacing: float
    baffles: int
    values: Mapping[str, tuple[float, str]] = field(default_factory=dict)


def _values(**metres: float) -> dict[str, tuple[float, str]]:
    """Values of a layout: lengths but for those whose name says otherwise."""
    kinds = {"gross": "mass", "fuel_volume": "volume", "water": "volume", "yield_strength": "stress"}
    return {
        name: (value, kinds.get(name, "mass" if name.endswith("_mass") else "length")) for name, value in metres.items()
    }


LAYOUTS: Mapping[str, Layout] = {
    "4x2": Layout(
        name="two-axle chassis, 18 t class",
        axles=(
            AxleStart("front", 0.0, 3900, 7500, 2, 3750, 2.02, steered=True),
            AxleStart("rear", 4.5, 2000, 11500, 4, 3150, 1.82),
        ),
        groups={},
        tyre_radius=0.49,
        pair_spacing=0.34,
        baffles=2,
        values=_values(
            gross=18000, cg=0.95, width=2.48, frame_top=0.98, frame_front=-1.3, frame_rear=6.6, frame_width=0.8,
            rail_height=0.26, rail_flange=0.075, rail_thickness=0.007, yield_strength=500e6, cab_front=-1.4,
            cab_back=0.62, cab_roof=2.85, cab_width=2.45, fuel_volume=0.2, fuel_at=1.7, fuel_height=0.7, water=8.0,
            tank_middle=3.4, tank_length=3.5, tank_bottom=1.16, plate=0.004, section_width=2.1, section_height=1.2,
            corner=0.35, head_depth=0.12, lip=1.15, manhole_at=1.75, manhole=0.5, sump_at=3.2, sump_depth=0.09,
            sump=0.3, outlet_height=-0.08, sub_from=0.95, sub_to=6.3, sub_height=0.12, sub_flange=0.06,
            sub_taper=0.48, sub_thickness=0.006, seat=-0.4, seat_y=-0.6, seat_height=1.65, pump_mass=150, pump_at=2.3,
            pump_height=0.8, pipes_mass=150, pipes_at=4.0, pipes_height=0.9, guards_mass=180, guards_at=4.4,
            guards_height=0.8,
        ),
    ),
    "6x4": Layout(
        name="three-axle chassis, 26 t class",
        axles=(
            AxleStart("front", 0.0, 4500, 8000, 2, 4000, 2.05, steered=True),
            AxleStart("rear 1", 3.9, 0, 9500, 4, 3150, 1.84, group="drive"),
            AxleStart("rear 2", 5.27, 0, 9500, 4, 3150, 1.84, group="drive"),
        ),
        groups={"drive": (4100, 19000)},
        tyre_radius=0.5,
        pair_spacing=0.34,
        baffles=3,
        values=_values(
            gross=26000, cg=1.02, width=2.5, frame_top=1.04, frame_front=-1.25, frame_rear=6.95, frame_width=0.85,
            rail_height=0.3, rail_flange=0.085, rail_thickness=0.008, yield_strength=500e6, cab_front=-1.4,
            cab_back=0.58, cab_roof=2.95, cab_width=2.5, fuel_volume=0.3, fuel_at=1.9, fuel_height=0.75, water=12.0,
            tank_middle=4.05, tank_length=4.7, tank_bottom=1.28, plate=0.004, section_width=2.2, section_height=1.25,
            corner=0.35, head_depth=0.12, lip=1.2, manhole_at=1.8, manhole=0.5, sump_at=4.4, sump_depth=0.09,
            sump=0.3, outlet_height=-0.08, sub_from=0.95, sub_to=6.85, sub_height=0.16, sub_flange=0.07,
            sub_taper=0.48, sub_thickness=0.006, seat=-0.35, seat_y=-0.6, seat_height=1.75, pump_mass=165, pump_at=2.4,
            pump_height=0.85, pipes_mass=190, pipes_at=4.4, pipes_height=0.95, guards_mass=230, guards_at=4.6,
            guards_height=0.85,
        ),
    ),
    "8x4": Layout(
        name="four-axle chassis, 35 t class",
        axles=(
            AxleStart("front 1", 0.0, 0, 8000, 2, 4000, 2.05, steered=True, group="steer"),
            AxleStart("front 2", 1.9, 0, 8000, 2, 4000, 2.05, steered=True, group="steer"),
            AxleStart("rear 1", 5.1, 0, 10500, 4, 3350, 1.84, group="drive"),
            AxleStart("rear 2", 6.47, 0, 10500, 4, 3350, 1.84, group="drive"),
        ),
        groups={"steer": (6200, 16000), "drive": (4000, 21000)},
        tyre_radius=0.51,
        pair_spacing=0.34,
        baffles=4,
        values=_values(
            gross=35000, cg=1.08, width=2.5, frame_top=1.08, frame_front=-1.3, frame_rear=8.1, frame_width=0.85,
            rail_height=0.3, rail_flange=0.085, rail_thickness=0.009, yield_strength=600e6, cab_front=-1.45,
            cab_back=0.6, cab_roof=3.0, cab_width=2.5, fuel_volume=0.35, fuel_at=3.4, fuel_height=0.75, water=17.0,
            tank_middle=4.2, tank_length=6.0, tank_bottom=1.36, plate=0.005, section_width=2.3, section_height=1.35,
            corner=0.35, head_depth=0.12, lip=1.3, manhole_at=2.4, manhole=0.5, sump_at=5.7, sump_depth=0.09,
            sump=0.3, outlet_height=-0.08, sub_from=0.95, sub_to=8.0, sub_height=0.2, sub_flange=0.075,
            sub_taper=0.48, sub_thickness=0.008, seat=-0.35, seat_y=-0.6, seat_height=1.8, pump_mass=180, pump_at=2.9,
            pump_height=0.9, pipes_mass=240, pipes_at=4.8, pipes_height=0.95, guards_mass=280, guards_at=5.0,
            guards_height=0.9,
        ),
    ),
}  # fmt: skip
"""Layout -> chassis and tank to start from."""
