"""Air gaps: the air between each mouth and the highest water there can be."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.fields import slug
from tunwright.build.pipework import Point
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Step, shop_rule, verdict
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.overflow import highest_water
from tunwright.truck.pipework.plumbing import Plumbing


def air_gap_findings(plumbing: Plumbing, assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The air gap of each mouth that something ends in.

    plumbing: the pipework
    assumed: paths of the assumed inputs
    """
    work = plumbing.work
    ends = {one.start for one in work.run} | {one.end for one in work.run}
    ends |= {one.start for one in work.relief} | {one.end for one in work.relief}
    for point in work.point:
        if point.mouth and point.name in ends:
            yield _gap(plumbing, point, assumed)


def air_gap(plumbing: Plumbing, point: Point) -> tuple[float, float]:
    """Air between a mouth and the highest water there can be, and the least it must be [m].

    plumbing: the pipework
    point: a mouth
    """
    bores = [plumbing.size(run).inside for run in plumbing.work.run if point.name in (run.start, run.end)]
    least = max(shop_value("air_gap_bores") * max(bores, default=0.0), shop_value("air_gap_least"))
    return float(point.height or 0.0) - highest_water(plumbing), least


def _gap(plumbing: Plumbing, point: Point, assumed: tuple[str, ...]) -> Finding:
    lip = plumbing.tank.lip()
    words = "overflow lip" if lip is not None else "roof of the tank"
    highest = plumbing.tank.roof() if lip is None else lip
    (value, limit), over = air_gap(plumbing, point), highest_water(plumbing) - highest
    values = f"{n(1000 * float(point.height or 0.0))} - {n(1000 * highest)} - {n(1000 * over)} mm"
    step = Step("air gap", f"mouth - {words} - water over the lip", values, f"{n(1000 * value)} mm")
    return Finding(
        f"air-gap-{slug(point.name)}", f"Is there an air gap under {point.name}, so that no water is sucked back?", "",
        value, limit, "m", "at_least", verdict(value, limit, "at_least"), shop_rule("air_gap_bores"),
        working=(step,), remedy=Remedy(f"raise its mouth by {n(1000 * (limit - value))} mm") if value < limit else None,
        assumed=assumed,
    )  # fmt: skip
