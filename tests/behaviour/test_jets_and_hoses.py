"""What is written wrong about a fire hose or a jet is told in a sentence; the frost and the hammer take a fire hose."""

from __future__ import annotations

import pytest

from plumbed import build, duty, pipes, plumbing, point, run, spray
from tunwright.build.problems import BuildProblems
from tunwright.build.reading import read_text
from tunwright.checks.pipework.frost import time_to_ice
from tunwright.checks.pipework.pipes import pipe_findings
from tunwright.sheets.pipework.lists import line_list

HOSE = 'series = "fire hose"\nsize = "{}"\nlength = "20 m"'


def hosed(size: str, series: str = "fire hose") -> str:
    """A reel on a fire hose of a size."""
    line = run("hose", "P", "nozzle", ["V1"])
    start = line.index("series"), line.index("\n", line.index("length"))
    line = line[: start[0]] + HOSE.format(size).replace("fire hose", series) + line[start[1] :]
    reel = spray("reel", "nozzle", "hose reel")
    return build([point("P", "outlet = 1"), point("nozzle"), line, reel, duty("wash", ["V1"])])


@pytest.mark.parametrize(("size", "words"), [
    ("7 in", "There is no size '7 in' in the series 'fire hose'; the nearest are 127 mm (5 in) and 152 mm (6 in)"),
    ("DN65", "There is no size 'DN65' in the series 'fire hose'; the nearest are 64 mm (2 1/2 in) and 76 mm (3 in)"),
    ("52 mm", "the nearest are 45 mm (1 3/4 in) and 51 mm (2 in)"),
])
def test_a_fire_hose_that_is_not_in_the_table_is_told_with_the_nearest(size: str, words: str) -> None:
    with pytest.raises(BuildProblems) as caught:
        read_text(hosed(size))
    assert words in str(caught.value)


def test_a_kind_of_hose_that_is_not_there_is_told_with_all_kinds() -> None:
    with pytest.raises(BuildProblems) as caught:
        read_text(hosed("64 mm", "fire hoses"))
    assert "There is no such kind of pipe in the table." in str(caught.value)
    assert '"fire hose"' in str(caught.value)


def test_a_fire_hose_goes_through_findings_and_lists() -> None:
    text = hosed("1 1/2 in")
    made = plumbing(text)
    findings = {one.key: one for one in pipe_findings(pipes(text), ())}
    assert findings["hammer"].value > 0
    assert findings["velocity-delivery"].value > 0
    lines = line_list(made, "metric")
    assert lines.rows[0][3:6] == ["fire hose", "38 mm", pytest.approx(0.0381)]
    assert line_list(made, "us").rows[0][4] == "1 1/2 in"
    size = made.size(made.work.run[0])
    assert (size.outside, size.wall) == (pytest.approx(0.0431), pytest.approx(0.0025))


def test_a_thin_fire_hose_freezes_before_a_thick_rubber_hose() -> None:
    times = []
    for series in ("fire hose", "hose"):
        frost = '\nfrost = { air = "-10 °C", wind = "10 km/h", stands = "1 h" }\n'
        text = hosed("64 mm", series).replace("[pipework]\n", f"[pipework]{frost}", 1)
        made = plumbing(text)
        times.append(time_to_ice(made, made.work.frost, made.runs["hose"], 0.0))
    assert 0 < times[0] < times[1]
