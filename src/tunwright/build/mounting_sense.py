"""What has to fit together in a mount, its bolts and its welds."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from tunwright.build.base import Wrong
from tunwright.build.typed import metres
from tunwright.handbook.bolt_resistance import LEAST_EDGE, LEAST_GAUGE
from tunwright.handbook.fillet_weld import LEAST_LENGTH, LEAST_THROAT
from tunwright.tables.bolts import bolt_sizes

if TYPE_CHECKING:
    from tunwright.build.model import Build
    from tunwright.build.mounting import BoltSet, Mount, Weld

_HAIR = 1 - 1e-9


def mount_rates(mount: Mount) -> Iterator[Wrong]:
    """Rates that a kind of mount does not have, or lacks."""
    soft = mount.kind in ("spring", "rubber")
    if soft and mount.rate is None:
        message = f"A {mount.kind} mount needs its rate, of one side."
        yield Wrong(("rate",), message, "", "a rate above 0", 'rate = "300 N/mm"')
    if mount.deflection is not None and mount.kind != "rubber":
        message = f"A {mount.kind} has no deflection: only rubber is pressed together."
        yield Wrong(("deflection",), message, mount.deflection.text, "no deflection, or a rubber mount")
    for name, value in (("rate", mount.rate), ("preload", mount.preload), ("travel", mount.travel)):
        if value is not None and not soft:
            message = f"A {mount.kind} has no {name}: it is taken as stiff."
            yield Wrong((name,), message, value.text, f"no {name}, or a spring or rubber mount")


def mount_joints(mount: Mount) -> Iterator[Wrong]:
    """Bolts or welds that a kind of mount does not have."""
    if mount.kind == "pivot":
        for name, there in (("bolts", mount.bolts), ("weld", mount.weld)):
            if there is not None:
                message = "A pivot stands on a cross-member: it has no bolts in the rail's web and no weld there."
                yield Wrong((name,), message, "", f"no {name}; the rating of its maker instead", 'rating = "40 kN"')
    bolts = mount.bolts
    if mount.kind != "clamp" and bolts is not None and bolts.columns * bolts.rows < 2:
        message = "One bolt turns in its hole: a plate or bracket needs two at least."
        yield Wrong(("bolts", "columns"), message, str(bolts.columns), "two bolts or more", "columns = 2")
    if mount.kind == "clamp" and mount.weld is not None:
        yield Wrong(("weld",), "A clamp is not welded.", "", "no weld, or a plate or bracket")


def hole(bolts: BoltSet) -> float:
    """Diameter of the holes of a set of bolts, medium series of ISO 273 [m].

    bolts: the bolts
    """
    return bolt_sizes()[bolts.size].holes["medium"]


def bolt_pattern(bolts: BoltSet) -> Iterator[Wrong]:
    """Bolts that stand closer to each other, or to the plate's edge, than EN 1993-1-8 allows."""
    d0 = hole(bolts)
    for name, gap, many in (("spacing", bolts.spacing, bolts.columns), ("row_spacing", bolts.row_spacing, bolts.rows)):
        least = LEAST_GAUGE * d0
        if many > 1 and gap is None:
            message = f"Several {'columns' if name == 'spacing' else 'rows'} need the distance between them."
            yield Wrong((name,), message, "", "a length above 0 mm", f"{name} = {metres(_round(3.0 * d0))}")
        elif many > 1 and gap is not None and gap < least * _HAIR:
            message = f"The bolts stand closer than {LEAST_GAUGE:g} holes of {1000 * d0:g} mm (EN 1993-1-8, Table 3.3)."
            yield Wrong((name,), message, gap.text, f"from {1000 * least:.1f} mm", metres(_round(3.0 * d0)))
    least = LEAST_EDGE * d0
    if bolts.edge < least * _HAIR:
        message = f"The edge is nearer than {LEAST_EDGE:g} holes of {1000 * d0:g} mm (EN 1993-1-8, Table 3.3)."
        yield Wrong(("edge",), message, bolts.edge.text, f"from {1000 * least:.1f} mm", metres(_round(2.0 * d0)))
    if bolts.drop is not None and bolts.drop < d0:
        message = "The upper row lies in the rail's upper flange."
        yield Wrong(("drop",), message, bolts.drop.text, f"from {1000 * d0:g} mm", '"70 mm"')


def _round(value: float) -> float:
    """A length on whole 5 mm, rounded up [m]."""
    return 0.005 * -(-value // 0.005)


def weld_sizes(weld: Weld) -> Iterator[Wrong]:
    """A weld too thin or too short to carry load."""
    if weld.throat < LEAST_THROAT * _HAIR:
        message = "A weld this thin must not carry load (EN 1993-1-8, 4.5.2)."
        yield Wrong(("throat",), message, weld.throat.text, f"from {1000 * LEAST_THROAT:g} mm", '"4 mm"')
    least = max(6 * float(weld.throat), LEAST_LENGTH) + 2 * float(weld.throat)
    if weld.length < least * _HAIR:
        message = "A weld this short must not carry load: six throats or 30 mm, and a throat at each end (4.5.1)."
        yield Wrong(("length",), message, weld.length.text, f"from {1000 * least:.0f} mm", metres(_round(4 * least)))


def bolts_on_rail(build: Build) -> Iterator[Wrong]:
    """Bolts below the rail's lower flange."""
    high = build.chassis.frame.rail_height
    for i, mount in enumerate(build.mount):
        bolts = mount.bolts
        if high is None or bolts is None or mount.kind == "clamp":
            continue
        deep = (bolts.rows - 1) * float(bolts.row_spacing or 0.0) + float(bolts.drop or hole(bolts))
        if deep > high - hole(bolts):
            name = "drop" if bolts.drop is not None else "row_spacing"
            given = getattr(bolts, name)
            message = f"The lower row of bolts, {1000 * deep:.0f} mm down, does not lie in the rail's web."
            allowed = f"a lower row above {1000 * (high - hole(bolts)):.0f} mm"
            yield Wrong(("mount", i, "bolts", name), message, given.text if given else "", allowed)
