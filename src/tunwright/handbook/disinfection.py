"""Chlorine for a tank: the dose, how long it works, what is left of it, and how to neutralise it.

Concentrations are kg/m3: 1 mg/L is 0.001 kg/m3.
"""

from __future__ import annotations

from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tunwright.handbook.positive import positive

Floats = NDArray[np.float64]

_CHLORINE = 70.906

NEUTRALISERS = MappingProxyType({
    "sodium bisulphite": 104.06 / _CHLORINE,
    "sodium metabisulphite": 190.11 / (2 * _CHLORINE),
    "sodium sulphite": 126.04 / _CHLORINE,
    "sodium thiosulphate to sulphate": 248.18 / (4 * _CHLORINE),
    "sodium thiosulphate to tetrathionate": 2 * 248.18 / _CHLORINE,
})
"""Mass of a neutraliser for each mass of free chlorine as Cl2 [-], by stoichiometry, molar masses from memory:

NaHSO3 + Cl2 + H2O, Na2S2O5 + 2 Cl2 + 3 H2O, Na2SO3 + Cl2 + H2O; crystals Na2S2O3.5H2O + 4 Cl2 + 5 H2O to sulphate, or
2 (Na2S2O3.5H2O) + Cl2 to tetrathionate. How far thiosulphate goes depends on the pH: doses measured at pH 7 are 1.9
for thiosulphate and 1.61 for bisulphite (AWWA, Disinfection of Pipelines and Storage Facilities Field Guide, 2006,
Table 7-2, read in a copy). Measure the residual afterwards.
"""


def chlorine_mass(*, volume: ArrayLike, concentration: ArrayLike, strength: float) -> Floats:
    """Mass of a chlorine product for a dose [kg], m = V C / p.

    volume: of the water V [m3], above 0
    concentration: of free chlorine wanted C [kg/m3], above 0; 50 mg/L is 0.05
    strength: available chlorine in the product, by mass p [-], above 0 to 1; 0.65 to 0.7 for calcium hypochlorite

    Source: mass balance, as in AWWA C652-11 (read in a copy).
    """
    _part("strength of the product", strength, "0.65")
    return _chlorine(volume, concentration) / strength


def liquid_volume(*, volume: ArrayLike, concentration: ArrayLike, content: float) -> Floats:
    """Volume of liquid bleach for a dose [m3], V C / content.

    volume: of the water V [m3], above 0
    concentration: of free chlorine wanted C [kg/m3], above 0; 50 mg/L is 0.05
    content: available chlorine in a volume of the liquid [kg/m3], above 0 to 250; bleach of 5 % is 50

    Source: mass balance, as in AWWA C652-11 (read in a copy).
    """
    if not 0 < content <= 250:
        raise ValueError(f"Liquid bleach holds above 0 and at most 250 kg/m3 of chlorine; {content:g} was given, "
                         "for example 50 kg/m3, which is 5 %.")
    return _chlorine(volume, concentration) / content


def contact_value(*, concentration: ArrayLike, time: ArrayLike) -> Floats:
    """Chlorine times contact time, CT [kg s/m3]; 1 mg min/L is 0.06.

    concentration: of free chlorine at the end of the contact [kg/m3], 0 or more
    time: of contact [s], 0 or more

    Source: Chick and Watson, as in the WHO Guidelines for Drinking-water Quality; from memory.
    """
    _none_below_zero("concentration", concentration, "0.0005 kg/m3, which is 0.5 mg/L")
    _none_below_zero("time", time, "1800 s")
    value: Floats = np.asarray(concentration, dtype=float) * np.asarray(time, dtype=float)
    return value


def residual(*, start: ArrayLike, rate: ArrayLike, time: ArrayLike) -> Floats:
    """Free chlorine left after some time [kg/m3], c = c0 exp(-k t), decay of the first order.

    start: free chlorine at the start c0 [kg/m3], 0 or more
    rate: decay constant k [1/s], 0 or more; it must be measured for the water and the lining
    time: since the start t [s], 0 or more

    Source: first-order bulk decay, common in water-supply models; from memory.
    """
    _none_below_zero("chlorine at the start", start, "0.05 kg/m3")
    _none_below_zero("rate", rate, "1e-5 1/s")
    _none_below_zero("time", time, "86400 s")
    left: Floats = np.asarray(start) * np.exp(-np.asarray(rate, dtype=float) * np.asarray(time))
    return left


def neutraliser_mass(*, chlorine: ArrayLike, ratio: float, purity: float = 1.0) -> Floats:
    """Mass of a product that neutralises chlorine [kg], m = ratio m_Cl / purity.

    chlorine: mass of free chlorine in the water, as Cl2 [kg], 0 or more
    ratio: neutraliser for each mass of chlorine [-], above 0 to 10: one of NEUTRALISERS, or a measured one
    purity: neutraliser in the product, by mass [-], above 0 to 1

    Source: stoichiometry; see NEUTRALISERS.
    """
    _none_below_zero("chlorine", chlorine, "0.5 kg")
    _part("purity", purity, "0.97")
    if not 0 < ratio <= 10:
        raise ValueError(f"The ratio of neutraliser to chlorine is above 0 and at most 10; {ratio:g} was given, "
                         "for example 1.47 for sodium bisulphite.")
    mass: Floats = np.asarray(chlorine, dtype=float) * ratio / purity
    return mass


def _chlorine(volume: ArrayLike, concentration: ArrayLike) -> Floats:
    positive(volume=(np.min(volume), "10 m3"),
             concentration=(np.min(concentration), "0.05 kg/m3, which is 50 mg/L"))
    mass: Floats = np.asarray(volume, dtype=float) * np.asarray(concentration, dtype=float)
    return mass


def _part(name: str, value: float, example: str) -> None:
    if not 0 < value <= 1:
        raise ValueError(f"The {name} is a part, above 0 and at most 1; {value:g} was given, for example {example}.")


def _none_below_zero(name: str, values: ArrayLike, example: str) -> None:
    if not (least := np.min(values)) >= 0:
        raise ValueError(f"The {name} must be 0 or more; {least:g} was given, for example {example}.")
