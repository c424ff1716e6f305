"""Runs of a flow meter against a measured volume: its K-factor, how far it is off, what strays and what follows flow.

A run is water let through the meter into a vessel that is measured, or weighed. What is weighed becomes a volume by the
density of water at its temperature; the buoyancy of air, 0.1 % of it, is neglected.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.stats import t as student

from tunwright.build.factors import LITRES_A_MINUTE
from tunwright.build.problems import Problem
from tunwright.handbook import water
from tunwright.handbook.instruments import Floats, calibrated_k, deviations, studentised
from tunwright.proof.cells import Wanted
from tunwright.proof.rows import Rows, read_rows
from tunwright.tables.read import shop_value

BUOYANCY = 0.00105
"""How much less a scale shows for water in air than its mass, over that: air 1.2 kg/m3, weights 8000 kg/m3 [-]."""

STRAYS = 0.0027
"""Chance that a run is named as a stray though nothing is wrong with it: that of three standard deviations [-]."""

SURE = 0.95
"""How sure one must be that the deviation changes with the flow [-]."""

_LEAST_TREND = 4  # runs, two slow and two fast
_SPREAD = 1.2  # fast over slow flow, below which runs are of one flow [-]
_STILL = 1e-9  # difference of deviations that is rounding [-]
_ZERO = 273.15

COLUMNS = (
    Wanted("run", "what the run is called", "A1", blank=True, what="words"),
    Wanted("pulses", "pulses counted in the run", "24010", usual=True, low=0.0, high=1e12, above=True, whole=True),
    Wanted("shown_l", "litres the display showed for the run", "203.4", low=0.0, high=1e9, above=True),
    Wanted("volume_l", "litres measured", "200.5", usual=True, low=0.0, high=1e9, above=True, blank=True),
    Wanted("mass_kg", "kilograms weighed", "199.8", low=0.0, high=1e9, above=True, blank=True),
    Wanted("temperature_c", "temperature of the water [°C]", "14", low=0.0, high=99.9, blank=True),
    Wanted("flow_l_min", "flow during the run [L/min]", "600", low=0.0, high=1e6, above=True, blank=True),
)
"""Columns of a file of runs."""


@dataclass(frozen=True)
class Run:
    """One run.

    name: what it is called
    line: its line in the file
    count: pulses, or the volume the display showed [m3]
    volume: measured [m3]
    mass: weighed [kg], not a number where the volume was measured
    temperature: of the water [K], not a number where not stated
    flow: during the run [m3/s], not a number where not stated
    """

    name: str
    line: int
    count: float
    volume: float
    mass: float
    temperature: float
    flow: float


@dataclass(frozen=True)
class Trend:
    """Whether the deviation changes with the flow.

    slow, fast: mean deviation of the slower and of the faster half of the runs [-]
    slowest, fastest: mean flow of each half [m3/s]
    chance: greatest difference that chance alone makes of runs that scatter as these do [-]
    """

    slow: float
    fast: float
    slowest: float
    fastest: float
    chance: float

    @property
    def difference(self) -> float:
        """How much more the meter shows at the faster runs [-]."""
        return self.fast - self.slow

    @property
    def seen(self) -> bool:
        """Whether it is more than chance."""
        return abs(self.difference) > max(self.chance, _STILL)


@dataclass(frozen=True)
class Calibration:
    """A meter as its runs show it.

    rows: the file
    runs: in the order of the file
    display: the counts are litres that a display showed, not pulses
    before: K-factor the display used [1/m3], None where not told
    k_factor: K-factor of the runs [1/m3]; where only litres shown are known, litres shown over litres measured [-]
    error: its standard error, not a number of one run alone
    found: deviation of each run as the display is set [-], None where that is not known
    left: deviation of each run with the K-factor of the runs [-]
    limit: greatest deviation allowed [-]
    trend: over the flow, None where the runs do not tell
    strays: positions of the runs that lie farther from the others than chance puts them
    without: what `k_factor` would be without the strays, None where none strays
    """

    rows: Rows
    runs: tuple[Run, ...]
    display: bool
    before: float | None
    k_factor: float
    error: float
    found: tuple[float, ...] | None
    left: tuple[float, ...]
    limit: float
    trend: Trend | None
    strays: tuple[int, ...]
    without: float | None

    @property
    def relative(self) -> bool:
        """Whether only a ratio is known, not a K-factor."""
        return self.display and self.before is None

    @property
    def weighed(self) -> bool:
        """Whether a volume was worked out from a mass."""
        return any(math.isfinite(one.mass) for one in self.runs)

    @property
    def worst_found(self) -> float | None:
        """Greatest deviation as the display is set, either way [-]."""
        return None if self.found is None else max(map(abs, self.found))

    @property
    def worst_left(self) -> float:
        """Greatest deviation with the K-factor of the runs, either way [-]; not a number of one run alone."""
        return max(map(abs, self.left)) if len(self.runs) > 1 else math.nan


def calibrated(path: Path, k_factor: float | None = None) -> Calibration:
    """A meter by the runs in a file. Raises RowProblems with everything wrong with it.

    path: the file
    k_factor: that the display uses [1/m3], None where not told
    """
    return calibration(read_rows(path, COLUMNS), k_factor)


def calibration(rows: Rows, before: float | None = None) -> Calibration:
    """A meter by its runs. Raises RowProblems where the columns do not say enough.

    rows: the runs
    before: K-factor that the display uses [1/m3], None where not told
    """
    display = _checked(rows)
    runs = _runs(rows, display=display)
    scale = before if display and before is not None else 1.0
    counts = np.array([one.count for one in runs]) * scale
    volumes = np.array([one.volume for one in runs])
    if len(runs) > 1:
        k, error = calibrated_k(counts=counts, volumes=volumes)
    else:
        k, error = float(counts[0] / volumes[0]), math.nan
    left = deviations(counts=counts, volumes=volumes, k_factor=k)
    now = 1.0 if display and before is None else before
    found = None if now is None else tuple(deviations(counts=counts, volumes=volumes, k_factor=now).tolist())
    trend = _trend(np.array([one.flow for one in runs]), left)
    strays = _strays(counts, volumes)
    kept = [i for i in range(len(runs)) if i not in strays]
    without = calibrated_k(counts=counts[kept], volumes=volumes[kept]).k_factor if strays and len(kept) > 1 else None
    limit, each = shop_value("meter_deviation"), tuple(left.tolist())
    return Calibration(rows, runs, display, before, k, error, found, each, limit, trend, strays, without)


def _checked(rows: Rows) -> bool:
    """Whether the display was read, not pulses counted; refuses files that say too little or two things."""
    counted, shown = "pulses" in rows.cells, "shown_l" in rows.cells
    found = list[Problem]()
    if counted == shown:
        wrong = "There are pulses and litres shown; one is enough." if counted else "What the meter counted is missing."
        found.append(Problem(None, "", "", wrong, "a column pulses, or a column shown_l", '"pulses,volume_l"'))
    if "volume_l" not in rows.cells and "mass_kg" not in rows.cells:
        wrong = "What was measured is missing."
        allowed = "a column volume_l, or the columns mass_kg and temperature_c"
        found.append(Problem(None, "", "", wrong, allowed, '"pulses,mass_kg,temperature_c"'))
    rows.refuse(found or _row_by_row(rows))
    return shown


def _row_by_row(rows: Rows) -> list[Problem]:
    """Runs of which nothing, or two things, were measured; weighed ones without a temperature."""
    columns = (rows.numbers(name) for name in ("volume_l", "mass_kg", "temperature_c"))
    found = []
    for line, volume, mass, warm in zip(rows.lines, *columns, strict=True):
        if math.isnan(volume) == math.isnan(mass):
            wrong = "Nothing was measured in this run." if math.isnan(mass) else "The run has a volume and a mass."
            allowed = "volume_l, or mass_kg with temperature_c"
            found.append(Problem(line, "column volume_l", "", wrong, allowed, "200.5"))
        elif not math.isnan(mass) and math.isnan(warm):
            wrong = "What is weighed needs the temperature of the water."
            found.append(Problem(line, "column temperature_c", "", wrong, "a temperature [°C] from 0 to 99.9", "14"))
    return found


def _runs(rows: Rows, *, display: bool) -> tuple[Run, ...]:
    names = rows.cells.get("run", (None,) * len(rows.lines))
    counts = [one * (1e-3 if display else 1.0) for one in rows.numbers("shown_l" if display else "pulses")]
    volume, mass, warm, flow = (rows.numbers(name) for name in ("volume_l", "mass_kg", "temperature_c", "flow_l_min"))
    found = []
    for i, line in enumerate(rows.lines):
        kelvin = warm[i] + _ZERO
        held = 1e-3 * volume[i] if math.isnan(mass[i]) else mass[i] / float(water.density(kelvin))
        name = str(names[i] or i + 1)
        found.append(Run(name, line, counts[i], held, mass[i], kelvin, flow[i] / LITRES_A_MINUTE))
    return tuple(found)


def _strays(counts: Floats, volumes: Floats) -> tuple[int, ...]:
    """Runs that three standard deviations would name, were there many; of few runs more is asked."""
    if len(counts) < _LEAST_TREND:
        return ()
    far = np.abs(studentised(counts=counts, volumes=volumes))
    off = np.abs(deviations(counts=counts, volumes=volumes, k_factor=calibrated_k(counts=counts, volumes=volumes)[0]))
    asked = student.ppf(1.0 - 0.5 * STRAYS, len(counts) - 2)
    return tuple(np.flatnonzero((far > asked) & (off > _STILL)).tolist())


def _trend(flows: Floats, left: Floats) -> Trend | None:
    """The slower half of the runs against the faster; None where there are too few, or all are of one flow."""
    known = np.flatnonzero(np.isfinite(flows))
    order = known[np.argsort(flows[known], kind="stable")]
    half = len(order) // 2
    if len(order) < _LEAST_TREND:
        return None
    slow, fast = order[:half], order[-half:]
    if flows[fast].mean() < _SPREAD * flows[slow].mean():
        return None
    scatter = sum(float(((left[part] - left[part].mean()) ** 2).sum()) for part in (slow, fast))
    error = math.sqrt(scatter / (2 * half - 2) * 2.0 / half)
    chance = float(student.ppf(0.5 + 0.5 * SURE, 2 * half - 2)) * error
    slower, faster = (float(left[part].mean()) for part in (slow, fast))
    return Trend(slower, faster, float(flows[slow].mean()), float(flows[fast].mean()), chance)
