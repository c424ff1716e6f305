"""The handbook's docstrings: every public function says what it is, and names each input with its unit.

One line per parameter, `name: text [unit]`; a number or an array of numbers without a dimension says [-].
"""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

HANDBOOK = Path(__file__).parents[2] / "src" / "tunwright" / "handbook"
NUMBER = re.compile(r"float|array", re.IGNORECASE)  # float, Floats, NDArray, ArrayLike, FloatArray ...
ENTRY = re.compile(r"^\s*(\w+): ")
UNIT = re.compile(r"\[[^\[\]]+\]")
HEADINGS = {"returns", "raises", "errors", "source", "sources", "formula", "valid", "note", "example", "where"}

Function = ast.FunctionDef | ast.AsyncFunctionDef


def public_functions(body: list[ast.stmt], owner: str = "") -> Iterator[tuple[str, Function]]:
    """Functions of a module, and methods of its public classes."""
    for node in body:
        if isinstance(node, Function) and not node.name.startswith("_"):
            yield owner + node.name, node
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            yield from public_functions(node.body, f"{node.name}.")


def parameters(function: Function) -> dict[str, str]:
    """Name -> annotation, as written; self and cls left out."""
    given = function.args
    every = [*given.posonlyargs, *given.args, *given.kwonlyargs, *filter(None, [given.vararg, given.kwarg])]
    every = [one for one in every if one.arg not in ("self", "cls")]
    return {one.arg: ast.unparse(one.annotation) if one.annotation else "" for one in every}


def entries(docstring: str) -> dict[str, str]:
    """Parameter lines of a docstring; lines that follow without a name of their own belong to the one before."""
    found: dict[str, str] = {}
    name = ""
    for line in inspect.cleandoc(docstring).splitlines():
        if hit := ENTRY.match(line):
            name = hit.group(1)
            found[name] = line
        elif not line.strip():
            name = ""
        elif name:
            found[name] += line
    return found


def faults(text: str) -> list[str]:
    """What the docstrings of a module leave out or say too much.

    Where several classes have a method of one name, it is enough that one of them describes its parameters.
    """
    functions = dict(public_functions(ast.parse(text).body))
    written = {name: entries(ast.get_docstring(function) or "") for name, function in functions.items()}
    found = [f"{name} has no docstring" for name, function in functions.items() if not ast.get_docstring(function)]
    for name, function in functions.items():
        wanted = parameters(function)
        twins = [lines for twin, lines in written.items() if twin.split(".")[1:] == name.split(".")[1:] != []]
        for one, annotation in wanted.items():
            line = next((lines[one] for lines in [written[name], *twins] if one in lines), None)
            if line is None:
                found.append(f"{name}: no line for {one}")
            elif NUMBER.search(annotation) and not UNIT.search(line):
                found.append(f"{name}: no [unit] for {one}")
        strangers = [one for one in written[name] if one not in wanted and one.islower() and one not in HEADINGS]
        found += [f"{name}: a line for {one}, which it does not take" for one in strangers]
    return found


def test_the_handbook_says_what_it_takes() -> None:
    found = []
    for path in sorted(HANDBOOK.rglob("*.py")):
        found += [f"{path.relative_to(HANDBOOK)}: {fault}" for fault in faults(path.read_text(encoding="utf-8"))]
    assert not found, "\n".join(found)


GOOD = '''
def bend(span: float, *, load: Floats, name: str) -> float:
    """Moment at mid-span [N m], M = F L / 4.

    span: distance between supports [m]
    load: force at mid-span, spread over
        the width of a shoe [N]
    name: what to call it

    Source: common practice, no source.
    """

def _helper(x): ...
'''


METHODS = '''
class Pipe:
    def volume(self, length: float) -> float:
        """Inside volume [m3].

        length: cut length [m]
        """

class Bar:
    def volume(self, length: float) -> float:
        """Volume of steel [m3]."""
'''


def test_methods_of_one_name_are_described_once() -> None:
    assert faults(METHODS) == []
    assert len(faults(METHODS.replace("        length: cut length [m]\n", ""))) == 2


def test_a_complete_docstring_is_let_through() -> None:
    assert faults(GOOD) == []


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("    span: distance between supports [m]\n", ""),
        ("between supports [m]", "between supports"),
        ("of a shoe [N]", "of a shoe"),
        ("name: str)", "title: str)"),
        ("_helper", "helper"),
    ],
)
def test_a_gap_in_a_docstring_is_found(before: str, after: str) -> None:
    assert before in GOOD
    assert faults(GOOD.replace(before, after))
