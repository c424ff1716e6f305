"""Whole networks against EPANET 2.2 (US EPA), run through wntr 1.5.0.

EPANET's own figures are kept below; a slow test works them out again where wntr is installed (`pip install wntr six`).
EPANET takes the friction factor from Swamee and Jain's formula, we from Colebrook's: they differ by up to 1 % in the
factor, so flows are held to 0.5 %. Its emitters are our nozzles, Q = k sqrt(p); its water has 1.022e-6 m2/s.
"""

from __future__ import annotations

import importlib.util
import math
import warnings
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tunwright.handbook.pipe_network import Link, flowing
from tunwright.handbook.pipe_parts import OneWay, PipeRun, PumpPart, Resistance
from tunwright.handbook.pump import PumpCurve

SOURCE = "EPANET 2.2 through wntr 1.5.0"
VISCOSITY, STEEL = 1.022e-6, 4.5e-5
SPEED = 200.0
DUTY = (0.025, 55.0)  # flow and head of the pump; EPANET draws H = 4/3 H1 - 1/3 H1 (Q / Q1)^2 through one point
Row = tuple[str, str, str, float, float, float]  # name, from, to, length, inside, loss coefficient

BAR: dict[str, Any] = {
    "given": {"tank": 2.0},
    "levels": {"in": 0.9, "out": 1.0, **{f"s{i}": 0.8 for i in range(4)}},
    "pipes": [
        ("suction", "tank", "in", 1.6, 0.1023, 1.2),
        *(
            ("p0", "out", "s0", 2.0, 0.0779, 0.5) if i == 0 else (f"p{i}", f"s{i - 1}", f"s{i}", 2.0, 0.0779, 0.5)
            for i in range(4)
        ),
    ],
    "pump": ("in", "out"),
    "nozzles": {f"s{i}": 0.005 / math.sqrt(30.6) for i in range(4)},
}
RING: dict[str, Any] = {
    "given": {"tank": 2.4},
    "levels": {"in": 0.9, "a": 1.0, "b": 1.0, "c": 1.2, "d": 0.8},
    "pipes": [
        ("suction", "tank", "in", 2.2, 0.1282, 1.6),
        ("ab", "a", "b", 3.0, 0.0779, 1.0),
        ("ac", "a", "c", 6.0, 0.0627, 2.5),
        ("bd", "b", "d", 5.0, 0.0525, 2.0),
        ("cd", "c", "d", 2.0, 0.0525, 4.0),
        ("bc", "b", "c", 1.5, 0.0409, 0.5),
    ],
    "pump": ("in", "a"),
    "nozzles": {"b": 0.004 / math.sqrt(20.0), "c": 0.006 / math.sqrt(30.0), "d": 0.009 / math.sqrt(25.0)},
}
GRAVITY: dict[str, Any] = {
    "given": {"high": 4.0, "low": 2.5},
    "levels": {"a": 1.0, "b": 0.6},
    "pipes": [
        ("down", "high", "a", 3.0, 0.1023, 1.5),
        ("over", "low", "a", 4.0, 0.0779, 2.0),
        ("on", "a", "b", 8.0, 0.0779, 3.0),
    ],
    "pump": None,
    "nozzles": {"b": 0.012 / math.sqrt(1.0)},
}
NETWORKS = {"spray bar": BAR, "ring main": RING, "two tanks": GRAVITY}

STORED: dict[str, dict[str, float]] = {
    "spray bar": {
        "suction": 0.025986919,
        "p0": 0.025986919,
        "p1": 0.019437876,
        "p2": 0.012940859,
        "p3": 0.006467378,
        "pump": 0.025986919,
    },
    "ring main": {
        "suction": 0.02694227,
        "ab": 0.017898429,
        "ac": 0.009043841,
        "bc": 0.004237885,
        "bd": 0.00722443,
        "cd": 0.005467686,
        "pump": 0.02694227,
    },
    "two tanks": {"down": 0.022435432, "over": -0.010395715, "on": 0.012039715},
}
"""Flows EPANET gives [m3/s]."""


def curve() -> PumpCurve:
    flow = np.linspace(0.0, 2.0 * DUTY[0], 81)
    return PumpCurve(flow, DUTY[1] * (4.0 / 3.0 - (flow / DUTY[0]) ** 2 / 3.0), SPEED)


def ours(network: dict[str, Any]) -> dict[str, float]:
    links = [
        Link(name, a, b, PipeRun(long, inside, STEEL, k, VISCOSITY)) for name, a, b, long, inside, k in network["pipes"]
    ]
    if network["pump"]:
        links.append(Link("pump", *network["pump"], PumpPart(curve(), SPEED)))
    given = dict(network["given"])
    for node, k in network["nozzles"].items():
        links.append(Link(f"nozzle {node}", node, f"air {node}", OneWay(Resistance(1.0 / k**2))))
        given[f"air {node}"] = network["levels"][node]
    return dict(flowing(links, given).flow)


@pytest.mark.parametrize("name", NETWORKS)
def test_flows_are_those_of_epanet(check, name: str) -> None:
    mine = ours(NETWORKS[name])
    for link, expected in STORED[name].items():
        check(
            f"{name}: flow in {link}",
            source=SOURCE,
            expected=expected,
            ours=mine[link],
            tol=0.005 * abs(expected),
            unit="m3/s",
        )


@pytest.mark.slow
@pytest.mark.skipif(importlib.util.find_spec("wntr") is None, reason="wntr is not installed")
@pytest.mark.parametrize("name", NETWORKS)
def test_the_figures_kept_are_epanets(name: str, tmp_path: Path) -> None:
    for link, flow in epanet(NETWORKS[name], tmp_path).items():
        assert STORED[name][link] == pytest.approx(flow, rel=1e-5)


def epanet(network: dict[str, Any], place: Path) -> dict[str, float]:
    """Flows by EPANET, those of emitters from the pressure at them."""
    import wntr

    model = wntr.network.WaterNetworkModel()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        model.options.hydraulic.headloss = "D-W"
    model.options.hydraulic.inpfile_units, model.options.hydraulic.accuracy = "LPS", 1e-7
    model.options.hydraulic.trials, model.options.time.duration = 200, 0
    for node, head in network["given"].items():
        model.add_reservoir(node, base_head=head)
    for node, level in network["levels"].items():
        model.add_junction(node, elevation=level)
    for name, a, b, long, inside, k in network["pipes"]:
        model.add_pipe(name, a, b, length=long, diameter=inside, roughness=STEEL, minor_loss=k)
    if network["pump"]:
        model.add_curve("curve", "HEAD", [DUTY])
        model.add_pump("pump", *network["pump"], "HEAD", "curve")
    for node, k in network["nozzles"].items():
        model.get_node(node).emitter_coefficient = k
    found = wntr.sim.EpanetSimulator(model).run_sim(file_prefix=str(place / "net"))
    return {name: float(found.link["flowrate"][name].iloc[0]) for name in model.link_name_list}
