"""The `check` fixture: one number against its source, asserted and noted down.

`pytest --write-checks` writes every noted row of tests/authority and tests/law to docs/checks.md.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

EVIDENCE = ("tests/authority/", "tests/law/")
TABLE = "docs/checks.md"
HEAD = """# Checks

Every number below was computed by the tests and compared with a source outside the code. Written by
`python start.py test --write-checks`; do not edit. `~0` is a difference below a thousandth of what is allowed. A row
that stands for many cases shows the worst of them.
"""

Row = dict[str, Any]


@pytest.fixture
def check(request: pytest.FixtureRequest) -> Callable[..., None]:
    """`check(what, *, source, expected, ours, tol, unit="")`: assert |ours - expected| <= tol and note the row."""

    def check(what: str, *, source: str, expected: float, ours: float, tol: float, unit: str = "") -> None:
        assert what.strip(), "a check needs a `what`: the quantity and the case"
        assert source.strip(), f"{what}: a check needs a `source`"
        assert 0 <= tol < math.inf, f"{what}: tol is {tol}; give a finite number, 0 or more"
        expected, ours, tol = float(expected), float(ours), float(tol)
        off = ours - expected
        assert abs(off) <= tol, (
            f"{what}: {source} gives {expected:.9g} {unit}, ours is {ours:.9g} {unit}, "
            f"off by {off:.3g}, allowed {tol:.3g}"
        )
        row = {"what": what, "source": source, "expected": expected, "ours": ours, "tol": tol, "unit": unit}
        request.node.user_properties.append(("check", row))

    return check


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--write-checks", action="store_true", help=f"write {TABLE} from the checks that ran")


def pytest_configure(config: pytest.Config) -> None:
    if not config.getoption("--write-checks") or hasattr(config, "workerinput"):
        return
    if config.args_source.name != "TESTPATHS" or config.option.keyword or config.option.markexpr:
        raise pytest.UsageError("--write-checks writes the whole table: run it without paths, -k or -m")
    config.pluginmanager.register(ChecksTable(config.rootpath / TABLE))


class ChecksTable:
    """Gathers the noted rows, from every worker, and writes the page once the whole suite has passed."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.noted: list[tuple[str, Row]] = []

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        file = report.nodeid.partition("::")[0]
        if report.when == "call" and file.startswith(EVIDENCE):
            self.noted += [(file, row) for name, row in report.user_properties if name == "check"]

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter, exitstatus: int) -> None:
        if exitstatus != 0:
            terminalreporter.write_line(f"{TABLE} is left as it was: the suite did not pass")
            return
        self.path.parent.mkdir(exist_ok=True)
        self.path.write_text(checks_page(self.noted), encoding="utf-8", newline="\n")
        terminalreporter.write_line(f"wrote {TABLE}: {len(self.noted)} checks")


def checks_page(noted: list[tuple[str, Row]]) -> str:
    """The Markdown page: a table per test file, sorted; of rows with the same words only the worst is kept."""
    worst: dict[tuple[str, str, str], Row] = {}
    for file, row in noted:
        key = (file, row["what"], row["source"])
        if key not in worst or _rank(row) > _rank(worst[key]):
            worst[key] = row
    lines = [HEAD]
    for file in sorted({key[0] for key in worst}):
        lines += [f"## {file}", "", "| what | source | expected | ours | difference | allowed |"]
        lines += ["|---|---|--:|--:|--:|--:|"]
        lines += [_line(worst[key]) for key in sorted(worst) if key[0] == file]
        lines += [""]
    return "\n".join(lines)


def _rank(row: Row) -> tuple[float, float]:
    """How near the row is to failing; ties, and differences that are noise, are settled by the expected value."""
    off = abs(row["ours"] - row["expected"])
    return (off / row["tol"] if off > row["tol"] / 1000 else 0.0, row["expected"])


def _line(row: Row) -> str:
    off = row["ours"] - row["expected"]
    difference = f"{off:+.2g}" if abs(off) > row["tol"] / 1000 else "~0"
    numbers = [f"{row['expected']:.9g}", _ours(row["ours"], row["tol"])]
    cells = [row["what"], row["source"], *(f"{number} {row['unit']}".strip() for number in numbers)]
    cells += [difference, f"{row['tol']:.2g}"]
    return "| " + " | ".join(cell.replace("|", "\\|").replace("\n", " ") for cell in cells) + " |"


def _ours(ours: float, tol: float) -> str:
    """Our number to a tenth of the tolerance, so that the last bits of one machine do not show."""
    if tol <= 0 or ours == 0:
        return f"{ours:.9g}"
    digits = math.floor(math.log10(abs(ours))) - math.floor(math.log10(tol)) + 2
    return f"{ours:.{min(max(digits, 1), 9)}g}"
