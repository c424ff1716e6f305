"""Checks an entity when it is made, so that a mistake is reported where it was written and not by a writer."""

from __future__ import annotations

import math
import re
from dataclasses import fields
from functools import cache
from typing import Any

from tunwright.sheets.layers import FILLS, LAYERS

_NAME = re.compile(r"[a-z][a-z0-9-]*\Z")
_TEXTS = ("text", "value", "note")


@cache
def _names_of(kind: Any) -> tuple[tuple[str, ...], tuple[str, ...], bool]:
    """Names of texts and of numbers an entity has, and whether it has a fill."""
    names = tuple(item.name for item in fields(kind))
    others = (*_TEXTS, "layer", "fill", "entities", "data", "name")
    texts, numbers = (tuple(n for n in names if (n in _TEXTS) == is_text) for is_text in (True, False))
    return texts, tuple(n for n in numbers if n not in others), "fill" in names


def check_entity(entity: Any) -> None:
    """Raises ValueError when a layer or fill is unknown, a number is not finite, or a text is more than one line."""
    own: Any = type(entity)
    kind = own.__name__
    texts, numbers, filled = _names_of(own)
    if kind != "Group" and entity.layer not in LAYERS:
        _refuse(kind, "layer", entity.layer, LAYERS)
    if filled and entity.fill is not None and entity.fill not in FILLS:
        _refuse(kind, "fill", entity.fill, FILLS)
    for name in texts:
        _check_text(kind, getattr(entity, name))
    for name in numbers:
        value = getattr(entity, name)
        if not _finite(value):
            raise ValueError(f"{kind}: {name} is {value!r}; every number must be finite, for example (0.5, 1.2)")
    _check_shape(kind, entity)


def _refuse(kind: str, what: str, value: str, known: dict[str, Any]) -> None:
    raise ValueError(f"{kind}: {what} {value!r} is not known; allowed are {', '.join(known)}")


def _check_text(kind: str, value: str) -> None:
    if not value.isprintable() and any(ord(sign) < 32 or ord(sign) == 127 for sign in value):
        raise ValueError(f"{kind}: {value!r} holds a line break or control character; write one entity a line")


def _finite(value: Any) -> bool:
    if isinstance(value, float):
        return math.isfinite(value)
    if isinstance(value, tuple):
        for part in value:  # a plain loop: this runs for every number of every entity
            if not (math.isfinite(part) if isinstance(part, float) else _finite(part)):
                return False
    return True


def _check_shape(kind: str, entity: Any) -> None:
    if kind == "Polyline":
        _check_polyline(entity)
    elif kind in ("Circle", "Arc") and not entity.radius > 0.0:
        raise ValueError(f"{kind}: radius is {entity.radius}; it must be positive, for example 0.5")
    elif kind == "LinearDimension" and entity.along == "slope" and entity.p1 == entity.p2:
        raise ValueError(f"LinearDimension: both points are {entity.p1}; a dimension along a slope needs two")
    elif kind == "Group":
        _check_names(entity)


def _check_polyline(line: Any) -> None:
    if len(line.points) < 2:
        raise ValueError(f"Polyline: {len(line.points)} points; at least two are needed")
    if line.bulges is not None and len(line.bulges) != len(line.points):
        raise ValueError(f"Polyline: {len(line.points)} points and {len(line.bulges)} bulges; give one bulge a point")


def _check_names(group: Any) -> None:
    for name in (group.name, *group.data):
        if not _NAME.match(name):
            raise ValueError(f"Group: {name!r} cannot be a data name; use lower-case letters, digits, hyphens: 'tank'")
