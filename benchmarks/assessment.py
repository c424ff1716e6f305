"""The whole assessment of each demo but its frame, which has `frame.py`: `python benchmarks/assessment.py`.

Cold: the first in the process. New tank: the tank's length changed, so that all water is worked out anew. Warm: the
tank moved, as on the bench. Each is loads in all states, findings, permitted window and fill limit; the median of ten.
"""

from __future__ import annotations

import statistics
import time

from tunwright.build.model import Build
from tunwright.build.reading import read_text
from tunwright.build.units import Quantity
from tunwright.checks.assess import Assessment
from tunwright.demos import NAMES, demo_text


def assess(build: Build) -> float:
    start = time.perf_counter()
    found = Assessment(build, frame=False)
    found.findings, found.window, found.fill_limit  # noqa: B018
    return 1e3 * (time.perf_counter() - start)


def changed(build: Build, key: str, by: float) -> Build:
    value = Quantity(getattr(build.tank, key) + by, "", "length")
    return build.model_copy(update={"tank": build.tank.model_copy(update={key: value})})


def main() -> None:
    print(f"{'demo':16} {'states':>7} {'cold':>8} {'new tank':>9} {'warm':>7}  ms")
    for name in NAMES:
        build = read_text(demo_text(name)).build
        cold = assess(build)
        new = statistics.median(assess(changed(build, "length", 0.001 * i)) for i in range(1, 11))
        warm = statistics.median(assess(changed(build, "middle", 0.001 * i)) for i in range(1, 11))
        print(f"{name:16} {len(Assessment(build).truck.table.states):7} {cold:8.1f} {new:9.1f} {warm:7.1f}")


if __name__ == "__main__":
    main()
