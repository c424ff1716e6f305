"""The cross-section of a tank from a DXF drawing: one closed outline, as points that a build file can hold."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tunwright.build.dxf_chain import Open, chained
from tunwright.build.dxf_curves import FLAT, Piece
from tunwright.build.dxf_pieces import Pieces, read_pieces
from tunwright.build.dxf_refused import OutlineRefused
from tunwright.build.dxf_simple import simplified
from tunwright.build.typed import listed, quoted
from tunwright.handbook.outline import crossing_edges

Floats = NDArray[np.float64]

LARGEST = 30_000_000
"""Largest drawing read [bytes]."""

SMALLEST_ACROSS, LARGEST_ACROSS = 50.0, 10_000.0
"""Size across an outline must have [mm]."""

_OFF_MIDDLE = 0.1  # the middle of an outline may stand off the drawing's zero by this part of its width

__all__ = ["ImportedOutline", "OutlineRefused", "outline_from_dxf"]


@dataclass(frozen=True)
class ImportedOutline:
    """An outline taken from a drawing.

    points_mm: corners (y, z), y to the right of the middle, z up from the lowest point; anticlockwise, from the middle
        of the bottom [mm]
    sha256: SHA-256 of the drawing
    file_name: name of its file
    unit: unit it was drawn in
    layer: layers the outline was drawn on
    warnings: what a person should know, in sentences
    """

    points_mm: tuple[tuple[float, float], ...]
    sha256: str
    file_name: str
    unit: str
    layer: str = ""
    warnings: tuple[str, ...] = field(default=())

    @property
    def area(self) -> float:
        """Enclosed area [mm2]."""
        return float(signed_area(np.array(self.points_mm)))


def outline_from_dxf(path: Path, *, unit: str | None = None, layer: str | None = None) -> ImportedOutline:
    """The one closed outline of a drawing. Raises OutlineRefused with a sentence on what was found and what to do.

    path: the DXF file
    unit: mm, cm, m or in; needed where the drawing does not say, and stronger than what it says
    layer: look at this layer only
    """
    raw = _bytes(path)
    pieces = read_pieces(path, unit=unit, layer=layer)
    warnings = list(pieces.warnings)
    outlines, left = chained(pieces.found)
    chosen = _the_one(outlines, left, pieces)
    if left:
        many = "An open line" if len(left) == 1 else f"{len(left)} open lines"
        warnings.append(f"{many} besides the outline {'was' if len(left) == 1 else 'were'} left out.")
    flat = _flat(chosen, warnings)
    _check_size(flat, pieces)
    points, off = simplified(_set_up(flat, warnings))
    if off > FLAT:
        warnings.append(f"The outline was drawn with very many points; they were thinned out by up to {off:.2f} mm.")
    points = points - (0.0, points[:, 1].min())
    pairs = tuple((round(float(y), 4) + 0.0, round(float(z), 4) + 0.0) for y, z in points)
    _check_crossing(np.array(pairs))
    digest = hashlib.sha256(raw).hexdigest()
    return ImportedOutline(pairs, digest, path.name, pieces.unit, chosen.layer, tuple(warnings))


def _bytes(path: Path) -> bytes:
    """The drawing, or why it is none."""
    if not path.exists():
        raise OutlineRefused(f"There is no file {path.name}. Give the path of a DXF drawing.")
    if not path.is_file():
        raise OutlineRefused(f"{path.name} is no file. Give the path of a DXF drawing.")
    size = path.stat().st_size
    if size == 0:
        raise OutlineRefused(f"{path.name} is empty. Save the drawing as DXF once more.")
    if size > LARGEST:
        raise OutlineRefused(
            f"{path.name} is {size / 1e6:.0f} MB large; a drawing of at most {LARGEST / 1e6:.0f} MB is read. "
            "Save the section alone in a drawing of its own."
        )
    raw = path.read_bytes()
    if raw[:4] == b"AC10" and raw[4:6].isdigit():
        raise OutlineRefused(f"{path.name} is a DWG drawing. Only DXF is read: save the drawing as DXF.")
    return raw


def _the_one(outlines: Sequence[Piece], left: Sequence[Open], pieces: Pieces) -> Piece:
    """The only closed outline there is."""
    if len(outlines) == 1:
        return outlines[0]
    if outlines:
        raise OutlineRefused(_several(outlines))
    if left:
        raise OutlineRefused(_open(left, pieces))
    raise OutlineRefused(
        f"There is no outline in the drawing: {pieces.seen or 'it is empty'}. Allowed is one closed line: a polyline, "
        "circle, ellipse or spline, or lines and arcs that meet. Draw the inside of the section with these."
    )


def _several(outlines: Sequence[Piece]) -> str:
    layers = Counter(outline.layer for outline in outlines)
    where = listed([f"{count} on layer {quoted(name)}" for name, count in layers.items()], "and")
    single = [name for name, count in layers.items() if count == 1 and ", " not in name]
    way = f"choose with --layer {quoted(single[0])}" if single else "leave only the inside of the section"
    return f"There are {len(outlines)} closed outlines in the drawing: {where}. Allowed is one: {way}."


def _open(left: Sequence[Open], pieces: Pieces) -> str:
    """Where the widest of the nearest gaps is."""
    worst = max(left, key=lambda one: one.gap)
    if worst.branch:
        here = _place(worst.here, pieces)
        return (
            f"More than two lines meet at {here}, so there is no telling which way the outline goes. Allowed is one "
            "closed line without branches: take away what does not belong to it, or put it on another layer."
        )
    return (
        f"The outline is open: there is a gap of {worst.gap:.2f} mm between {_place(worst.here, pieces)} and "
        f"{_place(worst.there, pieces)}. Gaps of up to 0.1 mm are closed; join the ends in the drawing."
    )


def _place(point: Floats, pieces: Pieces) -> str:
    x, y = point[:2] / pieces.scale
    return f"({x:.6g}, {y:.6g})"


def _flat(piece: Piece, warnings: list[str]) -> Floats:
    """The outline without its third dimension, anticlockwise [mm]."""
    z = piece.points[:, 2]
    if np.ptp(z) > 0.1:
        raise OutlineRefused(
            f"The outline is not flat: it reaches from {z.min():.1f} mm to {z.max():.1f} mm in z. Allowed is an "
            "outline in the x-y plane of the drawing: flatten it, with x across the tank and y up."
        )
    if abs(z[0]) > 0.1:
        warnings.append(f"The outline was drawn {z[0]:.1f} mm above the x-y plane; that was left out of account.")
    points: Floats = piece.points[:, :2]
    return points[::-1] if signed_area(points) < 0 else points


def _check_size(points: Floats, pieces: Pieces) -> None:
    size = float(np.ptp(points, axis=0).max())
    if not SMALLEST_ACROSS <= size <= LARGEST_ACROSS:
        raise OutlineRefused(
            f"The outline would be {size / 1000:.4g} m across, read in {pieces.unit}. Allowed is "
            f"{SMALLEST_ACROSS:.0f} mm to {LARGEST_ACROSS / 1000:.0f} m. Say the unit it is drawn in with --unit mm, "
            "cm, m or in."
        )


def _set_up(points: Floats, warnings: list[str]) -> Floats:
    """The outline with its lowest point on zero, and its middle on the tank's unless it is drawn about zero."""
    low, high = points.min(axis=0), points.max(axis=0)
    middle, width = (low[0] + high[0]) / 2, high[0] - low[0]
    if abs(middle) <= _OFF_MIDDLE * width:
        middle = 0.0
    else:
        warnings.append(f"The outline was moved {abs(middle):.1f} mm sideways, its middle onto the middle of the tank.")
    moved: Floats = points - (middle, low[1])
    return moved


def _check_crossing(points: Floats) -> None:
    crossed = crossing_edges(points)
    if crossed:
        y, z = points[crossed[0]]
        raise OutlineRefused(
            f"The outline crosses or touches itself near {y:.1f} mm across and {z:.1f} mm above its lowest point. "
            "Allowed is a line that does not: mend it in the drawing."
        )


def signed_area(points: Floats) -> float:
    """Area a polygon encloses, above zero when it runs anticlockwise.

    points: corners (n, 2)
    """
    y, z = points.T
    return float(0.5 * np.sum(y * np.roll(z, -1) - np.roll(y, -1) * z))
