"""What the tank's weakest panel bears, from inside or from outside."""

from __future__ import annotations

from tunwright.checks.finding import Rule, shop_rule
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.plumbing import Plumbing


def panel_bears(plumbing: Plumbing) -> tuple[float, Rule]:
    """Pressure difference the weakest panel bears [Pa], and who says so.

    plumbing: the pipework
    """
    own = plumbing.work.vacuum
    if own is not None:
        return float(own), Rule("the tank's weakest panel", mark="the build's")
    return shop_value("tank_vacuum"), shop_rule("tank_vacuum")
