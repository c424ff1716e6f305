"""The pipework: `python benchmarks/pipework.py`.

Every duty of the demos over the whole tank, warm. Then one network against EPANET (through wntr, where it is installed)
on the same: a solution with the model at hand, the writing of EPANET's file and reading of its results left in, since
wntr solves no other way.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "authority"))

from tunwright.build.reading import read_text
from tunwright.checks.pipework.pipes import Pipes
from tunwright.demos import demo_text
from tunwright.truck.pipework.duties import DutyState
from tunwright.truck.truck import Truck


def best(what: str, work: Callable[[], object], times: int = 7) -> float:
    """The fastest of several runs [ms], printed with the median."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        found.append(1e3 * (time.perf_counter() - start))
    found.sort()
    print(f"{what:58} median {found[times // 2]:7.2f} ms, best {found[0]:7.2f} ms")
    return found[0]


def demos() -> None:
    for name in ("quarry-carrier", "village-carrier"):
        truck = Truck(read_text(demo_text(name)).build)
        first = Pipes(truck)
        duty, plumbing = first.worked[0].duty, first.plumbing
        count = len(first.worked)
        best(f"{name}: {count} duties over the whole tank", lambda truck=truck: Pipes(truck).worked)
        best("  one duty at one filling", lambda p=plumbing, d=duty: DutyState(p, d, 0.7))


def against_epanet() -> None:
    try:
        import test_epanet_networks as networks  # noqa: PLC0415 -- it stands beside the tests
        import wntr  # noqa: F401, PLC0415 -- only whether it is there
    except ImportError:
        print("wntr is not installed: no comparison with EPANET")
        return
    ring = networks.NETWORKS["ring main"]
    mine = best("ring main, ours", lambda: networks.ours(ring))
    with tempfile.TemporaryDirectory() as place:
        theirs = best("ring main, EPANET through wntr", lambda: networks.epanet(ring, Path(place)), 5)
    print(f"  ratio {theirs / mine:.0f}")


if __name__ == "__main__":
    demos()
    against_epanet()
