"""The `check` fixture fails when it should, and writes the same page whatever the order and the workers."""

from __future__ import annotations

from pathlib import Path

import pytest

CONFTEST = Path(__file__).parents[1] / "conftest.py"
CHECKS = """
def test_steel(check):
    check("density of water", source="a table", expected=998.2, ours=998.2071, tol=0.05, unit="kg/m3")
    for error in (0.1, 0.3, 0.2):
        check("area | grid", source="closed form", expected=2.0, ours=2.0 + error, tol=0.5)
    check("noise", source="closed form", expected=1.0, ours=1.0 + 1e-12, tol=1e-6)
"""


@pytest.fixture
def suite(pytester: pytest.Pytester) -> pytest.Pytester:
    pytester.makeini("[pytest]\ntestpaths = tests\naddopts = --import-mode=importlib")
    for folder in ("authority", "behaviour"):
        Path("tests", folder).mkdir(parents=True)
    Path("tests/conftest.py").write_text(CONFTEST.read_text(encoding="utf-8"), encoding="utf-8")
    Path("tests/authority/test_water.py").write_text(CHECKS, encoding="utf-8")
    Path("tests/behaviour/test_water.py").write_text(CHECKS, encoding="utf-8")
    return pytester


def test_the_page_is_written_once_the_suite_has_passed(suite: pytest.Pytester) -> None:
    suite.runpytest("--write-checks").assert_outcomes(passed=2)
    page = Path("docs/checks.md").read_text(encoding="utf-8")
    assert page.count("##") == 1  # what is not evidence stays out
    assert "## tests/authority/test_water.py" in page
    assert "| density of water | a table | 998.2 kg/m3 | 998.207 kg/m3 | +0.0071 | 0.05 |" in page
    assert "| area \\| grid | closed form | 2 | 2.3 | +0.3 | 0.5 |" in page
    assert "| noise | closed form | 1 | 1 | ~0 | 1e-06 |" in page


def test_workers_write_the_same_page(suite: pytest.Pytester) -> None:
    suite.runpytest("--write-checks")
    alone = Path("docs/checks.md").read_bytes()
    suite.runpytest("--write-checks", "-n", "2").assert_outcomes(passed=2)
    assert Path("docs/checks.md").read_bytes() == alone


def test_a_suite_that_fails_writes_nothing(suite: pytest.Pytester) -> None:
    Path("tests/behaviour/test_water.py").write_text("def test_no():\n    assert False", encoding="utf-8")
    result = suite.runpytest("--write-checks")
    result.stdout.fnmatch_lines(["*left as it was*"])
    assert not Path("docs/checks.md").exists()


@pytest.mark.parametrize("partly", [["tests/authority"], ["-k", "steel"], ["-m", "slow"]])
def test_a_part_of_the_suite_writes_nothing(suite: pytest.Pytester, partly: list[str]) -> None:
    assert suite.runpytest("--write-checks", *partly).ret == pytest.ExitCode.USAGE_ERROR


@pytest.mark.parametrize("ours", [1.11, 0.89, float("nan"), float("inf")])
def test_a_number_outside_its_tolerance_fails(check, ours: float) -> None:
    with pytest.raises(AssertionError, match="a table gives 1 m, ours is"):
        check("length", source="a table", expected=1.0, ours=ours, tol=0.1, unit="m")


@pytest.mark.parametrize("tol", [-0.1, float("nan"), float("inf")])
def test_a_tolerance_that_means_nothing_fails(check, tol: float) -> None:
    with pytest.raises(AssertionError, match="give a finite number"):
        check("length", source="a table", expected=1.0, ours=1.0, tol=tol)


def test_a_check_names_its_source(check) -> None:
    with pytest.raises(AssertionError, match="source"):
        check("length", source=" ", expected=1.0, ours=1.0, tol=0.1)
