"""A cab of no particular make between its front, back and roof, and the wheels."""

from __future__ import annotations

import math
from dataclasses import replace

from tunwright.build.chassis import Axle
from tunwright.sheets.drawing import Circle, Entity, Group, Line, Point, Polyline
from tunwright.sheets.views.shapes import rounded
from tunwright.sheets.views.vehicle import Vehicle

_FORWARD = 2.3  # a longer cab has its engine before it [m]
_SKIRT = 0.38  # lower edge at the front [m]


def cab_side(vehicle: Vehicle) -> Group:
    """The cab from the side, dashed where its front, back or roof are not known."""
    facts = [vehicle.cab[name] for name in ("front", "back", "roof")]
    front, back, roof = (fact.value for fact in facts)
    known = all(fact.known for fact in facts)
    nose = max(0.0, back - front - _FORWARD)
    body = _body(vehicle, front, back, roof, nose)
    screen = ((front + nose + 0.06, 0.53 * roof), (front + nose + 0.30, roof - 0.12))
    rear = min(front + nose + 1.28, back - 0.35)
    window = rounded(
        [
            ((screen[0][0] + 0.16, 0.55 * roof), 0.03),
            ((rear, 0.55 * roof), 0.05),
            ((rear, roof - 0.28), 0.08),
            ((screen[1][0] + 0.10, roof - 0.28), 0.06),
        ],
        "thin" if known else "hidden",
        fill="sheet",
    )
    door = Line((rear + 0.07, roof - 0.2), (rear + 0.07, 0.5 * roof - 0.35), window.layer)
    handle = Line((rear - 0.14, 0.49 * roof), (rear + 0.01, 0.49 * roof), window.layer)
    lamp = rounded([((front + du, dv), 0.03) for du, dv in ((0.05, 0.76), (0.30, 0.76), (0.24, 0.90), (0.05, 0.90))])
    bumper = Line((front, 0.66), (front + 0.34, 0.66), window.layer)
    return Group("cab", (body, window, door, handle, replace(lamp, layer=window.layer), bumper))


def _body(vehicle: Vehicle, front: float, back: float, roof: float, nose: float) -> Polyline:
    """The contour: up the front, over the roof, down the back, round the wheel."""
    known = all(vehicle.cab[name].known for name in ("front", "back", "roof"))
    sill = vehicle.frame["top"].value - 0.12
    bonnet: list[tuple[Point, float]] = [((front + 0.12, 0.47 * roof), 0.12)] if nose > 0.0 else []
    upper = [
        ((back, sill), 0.0),
        ((back, roof), 0.14),
        ((front + nose + 0.32, roof), 0.16),
        ((front + nose + (0.0 if nose == 0.0 else 0.04), 0.5 * roof), 0.10),
        *bonnet[::-1],
        ((front, 0.36 * roof), 0.1),
        ((front, _SKIRT), 0.05),
    ]
    ends = _arch(vehicle, front, back, sill)
    contour = rounded([*upper, *((point, 0.0) for point in ends[:2])], "outline" if known else "hidden", fill="sheet")
    if not ends:
        return contour
    bulges = list(contour.bulges or ())
    bulges[-2] = ends[2]
    return Polyline(contour.points, contour.layer, tuple(bulges), closed=True, fill="sheet")


def _arch(vehicle: Vehicle, front: float, back: float, sill: float) -> tuple[Point, Point, float] | tuple[()]:
    """Both ends of the wheel arch of the first axle and the bulge between them; empty where the cab misses it."""
    radius = vehicle.tyre(vehicle.chassis.axle[0])["radius"].value
    reach = radius + 0.09
    low = -math.sqrt(max(reach**2 - (_SKIRT - radius) ** 2, 0.0))
    if not front + 0.05 < low or sill >= radius + reach:
        return ()
    far = math.sqrt(max(reach**2 - max(sill - radius, 0.0) ** 2, 0.0))
    end = (far, max(sill, radius)) if far < back - 0.02 else (back - 0.02, radius + _height(reach, back - 0.02))
    turn = [math.atan2(z - radius, x) for x, z in ((low, _SKIRT), end)]
    return (low, _SKIRT), end, -math.tan(((turn[0] - turn[1]) % (2.0 * math.pi)) / 4.0)


def _height(radius: float, x: float) -> float:
    return math.sqrt(max(radius**2 - x**2, 0.0))


def wheel_side(vehicle: Vehicle, index: int, *, lifted: float = 0.0) -> Group:
    """A wheel from the side; twin tyres have a deep rim with a second ring.

    lifted: how far a raised axle hangs above the road [m]
    """
    axle = vehicle.chassis.axle[index]
    radius = vehicle.tyre(axle)["radius"]
    centre, r = (float(axle.at), radius.value + lifted), radius.value
    rings: list[Entity] = [Circle(centre, r, "tyre" if radius.known else "hidden", "tyre" if radius.known else "sheet")]
    thin = "thin" if radius.known else "hidden"
    rings.append(Circle(centre, 0.60 * r, thin, "sheet"))
    if axle.tyres == 4:
        rings.append(Circle(centre, 0.50 * r, thin))
    rings.append(Circle(centre, (0.24 if axle.tyres == 4 else 0.15) * r, thin, "steel"))
    return Group("axle", tuple(rings), _axle_data(axle, index))


def _axle_data(axle: Axle, index: int) -> dict[str, str]:
    return {"axle": str(index), "name": axle.name, "tyres": str(axle.tyres)}
