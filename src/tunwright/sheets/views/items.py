"""What is fitted, as light boxes of the sizes given, in each of the three views."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from tunwright.build.model import Item
from tunwright.sheets.drawing import Group
from tunwright.sheets.views.labels import Label
from tunwright.sheets.views.shapes import box
from tunwright.sheets.views.vehicle import Vehicle

View = Literal["side", "rear", "plan"]
_SIZES: dict[View, tuple[str, str]] = {
    "side": ("length", "tall"), "rear": ("width", "tall"), "plan": ("length", "width")
}  # fmt: skip
_AXES: dict[View, tuple[int, int]] = {"side": (0, 2), "rear": (1, 2), "plan": (0, 1)}


def _placed(vehicle: Vehicle, view: View) -> Iterator[tuple[int, Item, float, float, float, float]]:
    """Items with both sizes of a view: number, item, middle (u, v), width and height [m]."""
    lumps = {lump.key: lump for lump in vehicle.truck.weights.lumps}
    for i, item in enumerate(vehicle.build.item):
        wide, tall = (getattr(item, name) for name in _SIZES[view])
        if wide and tall:
            centre = lumps[f"item.{i + 1}"].mass.centre
            u, v = (float(centre[axis]) for axis in _AXES[view])
            yield i, item, u, v, float(wide), float(tall)


def item_boxes(vehicle: Vehicle, view: View, layer: str = "thin") -> tuple[list[Group], list[Label]]:
    """The boxes of a view and their names."""
    groups, labels = [], []
    for i, item, u, v, wide, tall in _placed(vehicle, view):
        body = box(u - wide / 2, v - tall / 2, u + wide / 2, v + tall / 2, layer, "sheet" if layer == "thin" else None)
        groups.append(Group("item", (body,), {"item": f"item.{i + 1}", "name": item.name}))
        labels.append(Label((u, v), item.name, (wide, tall)))
    return groups, labels


def not_drawn(vehicle: Vehicle) -> tuple[str, ...]:
    """Names of what is weighed but has no size to draw in any view."""
    sized = {i for view in _SIZES for i, *_ in _placed(vehicle, view)}
    return tuple(item.name for i, item in enumerate(vehicle.build.item) if i not in sized)
