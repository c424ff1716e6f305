"""Disinfection of a drinking-water tank: how much of what for each way, and what takes the chlorine away again."""

from __future__ import annotations

from tunwright.checks.assess import Assessment
from tunwright.handbook.disinfection import chlorine_mass, contact_value, liquid_volume, neutraliser_mass
from tunwright.sheets.pipework.listing import Column, Listing, Value
from tunwright.tables.disinfection import Product, Way, products, ways

THIOSULPHATE = 1.9
"""Sodium thiosulphate for each mass of chlorine at pH 7 [-]: AWWA field guide, 2006, Table 7-2, read in a copy."""


def dosing_list(assessment: Assessment) -> Listing:
    """Doses for the whole tank; no rows where the build is not for drinking water.

    assessment: the assessment
    """
    columns = (
        Column("way", "way"), Column("concentration", "free chlorine", "dose"), Column("hours", "stands, h"),
        Column("contact", "mg/L × min, sure"), Column("product", "product"), Column("solid", "to weigh", "weight"),
        Column("liquid", "to measure", "dosed"), Column("thiosulphate", "thiosulphate afterwards", "weight"),
    )  # fmt: skip
    rows: list[list[Value]] = []
    if assessment.build.order.use == "potable":
        volume = float(assessment.truck.volumes.net.sum())
        rows = [_row(way, product, volume) for way in ways() for product in products()]
    foot = (
        "For the net volume of all compartments. Sure is what the least chlorine left at the end makes with the hours; "
        "where nothing says what is left, measure it. Add chlorine to water, never water to chlorine; eyes, hands and "
        "lungs protected, no acid near it; nobody in the tank. Measure what is left before it is let out, and again "
        "before the first delivery (0.2 to 0.5 mg/L). Hoses and pump too. Local health codes and the water authority "
        "come first."
    )
    return Listing("dosing", "Disinfection", columns, rows, foot)


def _row(way: Way, product: Product, volume: float) -> list[Value]:
    made = way.share * volume
    solid = liquid = None
    if product.strength is not None:
        solid = float(chlorine_mass(volume=made, concentration=way.concentration, strength=product.strength))
    elif product.content is not None:
        liquid = float(liquid_volume(volume=made, concentration=way.concentration, content=product.content))
    chlorine = made * way.concentration
    neutral = float(neutraliser_mass(chlorine=chlorine, ratio=THIOSULPHATE))
    stands: list[Value] = [way.words, way.concentration, f"{way.hours:g}", _contact(way)]
    return [*stands, product.words, solid, liquid, neutral]


def _contact(way: Way) -> str | None:
    """Chlorine times time that is sure, in the unit of the trade; None where nothing says what is left at the end."""
    if way.left is None:
        return None
    return f"{float(contact_value(concentration=way.left, time=3600.0 * way.hours)) * 1e3 / 60.0:.0f}"
