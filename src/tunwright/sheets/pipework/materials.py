"""Parts that water touches, with their materials and approvals, to be filled in and signed off."""

from __future__ import annotations

from tunwright.build.kind import System
from tunwright.checks.pipework.wetted_parts import Part, parts
from tunwright.sheets.pipework.listing import Column, Listing, Value
from tunwright.sheets.pipework.lists import size_name
from tunwright.truck.pipework.plumbing import Plumbing


def material_list(plumbing: Plumbing, system: System) -> Listing:
    """Every part that water touches, tank first; the column for the certificate stays blank for a pen.

    plumbing: the pipework
    system: "metric" or "us"
    """
    columns = (
        Column("part", "part"), Column("kind", "kind"), Column("where", "where"), Column("material", "material"),
        Column("approval", "approval"), Column("seen", "certificate seen"),
    )  # fmt: skip
    rows: list[list[Value]] = [
        [one.name, _kind(one, system), one.where, one.material or None, one.approval or None, ""]
        for one in parts(plumbing)
    ]
    foot = (
        "Overflow and vents are left out: no water that is delivered runs through them. Seals, grease, thread paste "
        "and coatings belong to a part and to its approval."
    )
    if plumbing.truck.build.order.use == "potable":
        foot += (
            " For drinking water every line needs an approval that the local water authority takes, and a certificate "
            "that somebody has seen."
        )
    return Listing("materials", "Parts that water touches", columns, rows, foot)


def _kind(one: Part, system: System) -> str:
    return one.what if one.size is None else f"{one.what}, {size_name(one.size, system)}"
