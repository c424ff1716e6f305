"""The lifting lugs: net section, tear-out, bearing, out of plane, and the weld at the foot."""

from __future__ import annotations

from collections.abc import Iterator

from tunwright.build.shown import show_number as n
from tunwright.checks.finding import Finding, Rule, Step, not_known, verdict
from tunwright.checks.hoisting.working import lacking
from tunwright.handbook.lifting_lug import effective_side
from tunwright.tables.read import shop_values
from tunwright.truck.hoist_lug import FRACTURE, HoistLug, LugPull
from tunwright.truck.hoisting import Hoisting

_BTH = "ASME BTH-1"
_READ = "2014, read in public worksheets, not in the standard"
QUESTIONS = {
    "hoist-lug-net": "Does the lug carry its leg beside the hole?",
    "hoist-lug-tear": "Does the lug carry its leg beyond the hole?",
    "hoist-lug-bearing": "Does the lug carry the pin?",
    "hoist-lug-aside": "Does the lug's foot carry the leg that pulls askew?",
    "hoist-lug-weld": "Does the weld of the lug carry its leg?",
}
RULES = {
    "hoist-lug-net": Rule(_BTH, "3-3.3.1: tension beside the hole, equation 3-45", _READ),
    "hoist-lug-tear": Rule(_BTH, "3-3.3.1: fracture and shear beyond the hole, equations 3-49 to 3-52", _READ),
    "hoist-lug-bearing": Rule(_BTH, "3-3.3.4: bearing of the pin, equation 3-53", _READ),
    "hoist-lug-aside": Rule("beam theory at the lug's foot, von Mises against yield over the design factor",
                            mark="derived"),
    "hoist-lug-weld": Rule("EN 1993-1-8", "4.5.3.2 and 4.5.3.3, both methods; 1.2 × design factor in place of gamma M2",
                           "2005, seen in public summaries"),
}  # fmt: skip
SHELL = "The shell under the lug and a pad between them are not checked here: a pad over a ring, head or baffle helps."
STRAIGHT = "Taken as pulled straight up; with an end rounded about the hole a leaning pull meets the same plate."
STEELS = "a tank of steel: no rule for welds of other metals is kept here"
_IN_PLANE = {
    "hoist-lug-net": ("net tension",),
    "hoist-lug-tear": ("end fracture", "tear-out"),
    "hoist-lug-bearing": ("pin bearing",),
}


def lug_findings(hoisting: Hoisting, rests: tuple[str, ...]) -> Iterator[Finding]:
    """Findings about the lugs; one open question where nothing is known of them.

    hoisting: the lift
    rests: paths of the assumed inputs they rest on
    """
    lug = hoisting.lifting.lug
    if lug is None:
        rule = Rule(_BTH, "3-3.3", _READ)
        yield not_known("hoist-lug", "Do the lugs carry their legs?", rule, "share", ("lifting.lug",), limit=1.0)
        return
    asked = HoistLug(hoisting, lug)
    missing = lacking(hoisting)
    for key, question in QUESTIONS.items():
        lacks = missing or (_weld_missing(asked) if key == "hoist-lug-weld" else ())
        if lacks:
            yield not_known(key, question, RULES[key], "share", lacks, limit=1.0)
        else:
            yield _lug_finding(asked, key, rests)


def _weld_missing(asked: HoistLug) -> tuple[str, ...]:
    if not asked.on_steel:
        return (STEELS,)
    return () if asked.lug.throat is not None else ("lifting.lug.throat", "lifting.lug.weld_length")


def _lug_finding(asked: HoistLug, key: str, rests: tuple[str, ...]) -> Finding:
    worst = max(asked.pulls, key=lambda pull: _use(asked, key, pull))
    value = _use(asked, key, worst)
    steps = [Step("pull of the leg while hoisting", "as the sling's", f"{worst.lift}, {worst.eye}", _kn(worst.pull))]
    if key in _IN_PLANE:
        steps += _plane_steps(asked, key)
        least = min(asked.carries[name] for name in _IN_PLANE[key])
        steps.append(Step("used", "pull / load carried", f"{_kn(worst.pull)} / {_kn(least)}", f"{100 * value:.1f} %"))
    else:
        steps += _parts(asked, worst)
        steps += _foot_steps(asked, worst) if key == "hoist-lug-aside" else _weld_steps(asked, worst)
    note = SHELL + _thin(asked) if key == "hoist-lug-weld" else STRAIGHT if key in _IN_PLANE else ""
    state = f"{worst.lift}, {worst.eye}"
    held = verdict(value, 1.0, "at_most")
    return Finding(
        key, QUESTIONS[key], state, value, 1.0, "share", "at_most", held, RULES[key],
        working=tuple(steps), assumed=rests, note=note,
    )  # fmt: skip


def _thin(asked: HoistLug) -> str:
    shell = asked.hoisting.truck.build.tank.shell
    return "" if shell >= 0.004 else f" EN 1993-1-8 is made for 4 mm and more; the shell has {shell.text}."


def _use(asked: HoistLug, key: str, pull: LugPull) -> float:
    """Utilisation of one question [-]."""
    if key in _IN_PLANE:
        return pull.pull / min(asked.carries[name] for name in _IN_PLANE[key])
    if key == "hoist-lug-aside":
        return asked.foot(pull)
    return max(asked.weld(pull))


def _kn(force: float) -> str:
    return f"{n(force / 1000, 2)} kN"


def _mpa(stress: float) -> str:
    return f"{n(stress / 1e6)} MPa"


def _mm(length: float) -> str:
    return f"{n(1000 * length, 1)} mm"


def _plane_steps(asked: HoistLug, key: str) -> Iterator[Step]:
    """What the plate carries in its plane."""
    plate, factor = asked.plate, f"Nd {asked.factor:g}"
    strength = f"Fy {_mpa(asked.yield_strength)}, Fu {_mpa(asked.tensile_strength)}, {factor}"
    yield Step("steel and design factor", asked.steel.name, "", strength, shop_values()["lug_design_factor"].source)
    t, pin, source = _mm(plate.thickness), _mm(plate.pin), f"{_BTH}-{_READ}"
    if key == "hoist-lug-bearing":
        formula, values = "1.25 Fy / Nd × Dp × t", f"Dp {pin}, t {t}"
        yield Step("pin bearing", formula, values, _kn(asked.carries["pin bearing"]), source)
        return
    loose = f"Dp {pin}, Dh {_mm(plate.hole)}"
    yield Step("looseness of the pin Cr", "1 − 0.275 √(1 − Dp²/Dh²)", loose, f"{plate.looseness:.3f}", source)
    if key == "hoist-lug-net":
        wide = effective_side(plate, yield_strength=asked.yield_strength, tensile_strength=asked.tensile_strength)
        values = f"t {t}, be {_mm(plate.side)}, beff {_mm(wide)}"
        yield Step("net tension", "Cr Fu / (1.2 Nd) × 2 t beff", values, _kn(asked.carries["net tension"]), source)
        return
    values = f"t {t}, a {_mm(plate.end)}, be {_mm(plate.side)}"
    ring = "Cr Fu / (1.2 Nd) [1.13 a + 0.92 be / (1 + be/Dh)] t"
    yield Step("fracture beyond the hole", ring, values, _kn(asked.carries["end fracture"]), source)
    shear = "0.7 Fu / (1.2 Nd) × 2 [a − z + Dp/2 (1 − cos(55° Dp/Dh))] t"
    yield Step("shear on two planes beyond the hole", shear, values, _kn(asked.carries["tear-out"]), source)


def _parts(asked: HoistLug, pull: LugPull) -> Iterator[Step]:
    """The pull in the lug's directions."""
    words = {"along": "along the tank", "across": "across the tank", "hook": "turned towards the hook"}
    values = f"up {_kn(pull.up)}, in the plate {_kn(pull.across)}, aside {_kn(pull.aside)}"
    formula = f"plate {words[asked.lug.turned]}; aside at least {100 * shop_values()['lug_aside'].value:g} %"
    yield Step("its parts in the directions of the lug", formula, values, "", shop_values()["lug_aside"].source)


def _foot_steps(asked: HoistLug, pull: LugPull) -> Iterator[Step]:
    one = asked.lug
    values = f"w {one.width.text}, t {one.thickness.text}, h {one.height.text}, Fy {_mpa(asked.yield_strength)}"
    formula = "√((N/wt + 6h (A/wt² + C/tw²))² + 3 τ²) Nd / Fy"
    yield Step("used at the foot", formula, values, f"{100 * asked.foot(pull):.1f} %", "derived")


def _weld_steps(asked: HoistLug, pull: LugPull) -> Iterator[Step]:
    weld = asked.welded
    if weld is None:
        return
    run = f"2 × {_mm(weld.length)} less two throats each, a {_mm(weld.throat)}, {asked.lug.thickness.text} apart"
    weaker = f"{weld.steel}, fu {_mpa(weld.tensile_strength)}, βw {weld.correlation:g}"
    yield Step("weld, and the weaker steel it joins", "elastic line group", run, weaker, "EN 1993-1-8; EN 1993-1-4 for "
               "stainless, from memory")  # fmt: skip
    margin = f"margin {FRACTURE * asked.factor:g} in place of gamma M2"
    directional, simplified = (f"{100 * use:.1f} %" for use in asked.weld(pull))
    yield Step("used by the directional method", "√(σ² + 3 (τ² + τ∥²)) βw × margin / fu", margin, directional,
               "EN 1993-1-8, 4.5.3.2")  # fmt: skip
    yield Step("used by the simplified method", "F / (a fu / (√3 βw × margin))", margin, simplified,
               "EN 1993-1-8, 4.5.3.3")  # fmt: skip
