"""Layers of a drawing: every line has a weight with a meaning; colours are roles, never values.

Weights follow the series 0.13, 0.18, 0.25, 0.35, 0.5 mm (technical drawing practice after ISO 128, from memory).
Palettes give the roles their colours: `PAPER` for print, `LIGHT` and `DARK` for a screen by day and night. In the
"css" theme a page may set the variables itself: role "ink" reads the variable `--ink`, and so on; `css_variables()`
writes them all.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Layer:
    """One layer.

    meaning: what a line on it says
    weight_mm: line weight on paper [mm]; 0 draws no line, only the fill
    role: colour role, a key of `LIGHT`
    dash_mm: dash and gap lengths on paper [mm], empty for a continuous line
    colour_index: colour number in a DXF file (7 is black or white, whichever shows)
    """

    meaning: str
    weight_mm: float
    role: str
    dash_mm: tuple[float, ...] = ()
    colour_index: int = 7


DASHED = (2.4, 1.2)
CHAIN = (6.0, 1.2, 0.8, 1.2)
DOTTED = (0.4, 1.2)

LAYERS: dict[str, Layer] = {
    "outline": Layer("contour of what the view is about", 0.5, "ink"),
    "thin": Layer("secondary edges, glass, panel joints", 0.18, "ink"),
    "steel": Layer("structural steel, usually filled", 0.25, "ink", colour_index=8),
    "hidden": Layer("edges behind something: baffles, rails in the shell", 0.25, "ink", DASHED, 8),
    "centre": Layer("centre lines and axes", 0.18, "soft", CHAIN, 8),
    "dimension": Layer("dimension and extension lines, leaders, their texts", 0.18, "ink"),
    "ground": Layer("the road", 0.35, "ink"),
    "water": Layer("a water surface", 0.35, "accent", colour_index=5),
    "area": Layer("a filled area without a line of its own", 0.0, "ink", colour_index=8),
    "hatch": Layer("hatching lines and the edge of a hatched zone", 0.13, "accent", colour_index=5),
    "accent": Layer("what the reader may move, or should look at", 0.5, "accent", colour_index=5),
    "accent_far": Layer("the same on the far side", 0.25, "accent", DASHED, 5),
    "unloaded": Layer("what is drawn elsewhere as it moves, in its place", 0.18, "accent", DASHED, 5),
    "grid": Layer("grid of a diagram", 0.13, "rule", colour_index=9),
    "alarm": Layer("what fails; drawn beyond its limit, not only coloured", 0.5, "bad", DASHED, 1),
    "hole": Layer("a hole to be drilled", 0.35, "ink", colour_index=3),
    "tyre": Layer("tyres, usually filled", 0.25, "ink"),
    "text": Layer("figures and headings", 0.25, "ink"),
    "note": Layer("secondary words beside a figure", 0.18, "soft", colour_index=8),
    "sheet_frame": Layer("frame and title block of a sheet", 0.5, "ink"),
}

FILLS: dict[str, str] = {
    "ink": "ink",
    "soft": "soft",
    "sheet": "sheet",  # the colour of the sheet: hides what lies behind
    "steel": "steel",
    "water": "water",
    "accent": "accent",
    "tyre": "tyre",
    "bad": "bad",
    "hatch": "accent",  # oblique lines instead of a flat colour
}

LIGHT: dict[str, str] = {
    "ink": "#1d2730",
    "soft": "#5d6770",
    "rule": "#d8d4c8",
    "sheet": "#fffefa",
    "steel": "#c9ced2",
    "water": "#b9d5e0",
    "tyre": "#2b343b",
    "accent": "#0b6a7f",
    "near": "#8a6100",
    "bad": "#a8322a",
}

DARK: dict[str, str] = {
    "ink": "#dfe5e8",
    "soft": "#98a4ac",
    "rule": "#2b353c",
    "sheet": "#171e23",
    "steel": "#44515a",
    "water": "#24566d",
    "tyre": "#0a0e11",
    "accent": "#5cc0d6",
    "near": "#e0b354",
    "bad": "#ef8a80",
}

PAPER: dict[str, str] = LIGHT | {"sheet": "#ffffff"}  # print leaves the paper bare

FONTS = "'Liberation Sans','DejaVu Sans','Libertinus Sans',sans-serif"


def css_variables() -> str:
    """Style rules that give every colour role its day and night value, for a page using the "css" theme."""
    day = ";".join(f"--{role}:{colour}" for role, colour in LIGHT.items())
    night = ";".join(f"--{role}:{colour}" for role, colour in DARK.items())
    return f":root{{{day}}}@media(prefers-color-scheme:dark){{:root{{{night}}}}}"
