"""Standing in the cold: how long the water in each run takes to ice."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.pipework import Frost, PipeRun
from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Remedy, Rule, Step, verdict
from tunwright.handbook import icing
from tunwright.tables.read import shop_value
from tunwright.truck.pipework.plumbing import Plumbing

BALANCE = Rule("heat balance of the standing water, tenth part of it ice", mark="derived")
ICE = 0.1
"""Part of the water that is ice when a run counts as frozen: valves stick and slush blocks long before all is ice."""

HOLD = icing.FREEZING + 2.0
"""Temperature a heated run is held at [K]."""

_CALM = 0.1  # wind that is none [m/s]
_INSULATIONS = (0.009, 0.013, 0.019, 0.025, 0.032, 0.04, 0.05)  # usual thicknesses [m]; from memory


def frost_findings(plumbing: Plumbing, assumed: tuple[str, ...]) -> Iterator[Finding]:
    """The run that freezes first, none where no cold is stated.

    plumbing: the pipework
    assumed: paths of the assumed inputs
    """
    frost = plumbing.work.frost
    if frost is None or float(frost.air) >= icing.FREEZING:
        return
    stays = [run for run in plumbing.work.run if not run.falls]
    if not stays:
        return
    times = [(time_to_ice(plumbing, frost, run, float(run.insulation or 0.0)), run) for run in stays]
    value, run = min(times, key=lambda pair: pair[0])
    limit = float(frost.stands)
    judged = verdict(value / 3600, limit / 3600, "at_least")
    thick = least_insulation(plumbing, frost, run)
    words = f"insulate {run.name} with {n(1000 * (thick or 0))} mm, then look again at the next" if thick else None
    remedy = Remedy(words or f"drain {run.name} or heat it with {n(tracing(plumbing, frost, run))} W on each metre")
    slowest = max(times, key=lambda pair: pair[0])
    steps = (
        Step(
            run.name,
            "cooling to 0 °C, then latent heat of a tenth part through wall, insulation, wind and radiation",
            f"{run.size}, {n(1000 * float(run.insulation or 0.0))} mm of insulation",
            f"{n(value / 3600, 2)} h",
            "lumped balance, derived; films by Churchill and Bernstein, Churchill and Chu, Stefan and Boltzmann",
        ),
        Step("the last to freeze", "", slowest[1].name, f"{n(slowest[0] / 3600, 2)} h"),
    )
    yield Finding(
        "frost", "Does no run of pipe freeze while it stands in the cold?",
        f"{run.name}, {frost.air.text}, {frost.wind.text}", value / 3600, limit / 3600, "h", "at_least", judged,
        BALANCE, remedy=remedy if judged == "fails" else None, working=steps, assumed=assumed,
    )  # fmt: skip


def time_to_ice(plumbing: Plumbing, frost: Frost, run: PipeRun, insulation: float) -> float:
    """Time until a tenth of the water in a run is ice [s].

    plumbing: the pipework
    frost: the cold
    run: the run
    insulation: thickness [m]
    """
    size, air = plumbing.size(run), float(frost.air)
    resistance = _resistance(plumbing, frost, run, insulation)
    capacity = icing.heat_capacity_per_metre(bore=size.inside)
    start = max(float(frost.water), icing.FREEZING)
    cools = icing.cooling_time(start=start, air=air, resistance=resistance, heat_capacity=capacity)
    freezes = icing.freezing_time(part=ICE, bore=size.inside, air=air, resistance=resistance)
    return float(cools + freezes)


def tracing(plumbing: Plumbing, frost: Frost, run: PipeRun, insulation: float | None = None) -> float:
    """Heating that keeps a run from freezing, with a reserve [W/m].

    plumbing: the pipework
    frost: the cold
    run: the run
    insulation: thickness [m]; its own where left out
    """
    thick = float(run.insulation or 0.0) if insulation is None else insulation
    return float(
        icing.tracing_power(
            hold=HOLD,
            air=float(frost.air),
            resistance=_resistance(plumbing, frost, run, thick),
            reserve=shop_value("tracing_reserve"),
        )
    )


def least_insulation(plumbing: Plumbing, frost: Frost, run: PipeRun) -> float | None:
    """The thinnest insulation with which a run stands the cold [m], None where none of the usual ones does.

    plumbing: the pipework
    frost: the cold
    run: the run
    """
    limit = float(frost.stands)
    return next((t for t in _INSULATIONS if time_to_ice(plumbing, frost, run, t) >= limit), None)


def _resistance(plumbing: Plumbing, frost: Frost, run: PipeRun, insulation: float) -> float:
    size = plumbing.size(run)
    outside = size.outside + 2.0 * insulation
    film = _film(plumbing, frost, outside)
    return float(
        icing.resistance_per_metre(
            bore=size.inside,
            wall=size.wall,
            wall_conductivity=size.made.conductivity,
            film=film,
            insulation=insulation,
            insulation_conductivity=shop_value("insulation_conductivity"),
        )
    )


def _film(plumbing: Plumbing, frost: Frost, outside: float) -> float:
    """Heat a pipe gives to wind, or to still air where that takes more, and by radiation [W/(m2 K)]."""
    air, wind = float(frost.air), float(frost.wind)
    there = {"diameter": outside, "air": air, "surface": icing.FREEZING, "pressure": plumbing.liquid.air}
    moved = float(icing.still_air_film(**there))
    if wind >= _CALM:
        moved = max(moved, float(icing.air_film(wind=wind, **there)))
    glow = icing.radiation_film(air=air, surface=icing.FREEZING, emissivity=shop_value("emissivity"))
    return moved + float(glow)
