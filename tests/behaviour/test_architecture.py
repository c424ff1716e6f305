"""The rooms of the house: imports run downwards only, files stay small, nothing of one machine gets in."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "tunwright"
FACES = ("cli", "desk", "explore", "__main__")
ROOMS = ("demos", "tables", "handbook", "build", "truck", "checks", "shop", "proof", "sheets", "faces")  # upwards
FIELD = ("pipe_friction", "pipe_fittings")  # what may use the field library for pipes, imported where it is used
LONGEST_FILE = 500

# Folders that exist on one machine only; a lookbehind keeps relative paths and addresses out.
MACHINE_PATH = re.compile(r"(?<![\w.~})-])/(?:home|root|opt|tmp|work|farm|mnt|Users)/\w|[A-Z]:\\\\?Users")


def room_of(module: str) -> str:
    """`tunwright.checks.axles` -> `checks`; the faces share a room."""
    first = module.split(".")[1]
    return "faces" if first in FACES else first


def python_files() -> list[Path]:
    return sorted(SOURCE.rglob("*.py"))


def module_name(path: Path) -> str:
    parts = path.relative_to(SOURCE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports(text: str, module: str, *, is_package: bool) -> Iterator[str]:
    """Every module a text imports, anywhere in it, as absolute names."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = module.split(".")[: len(module.split(".")) - node.level + is_package] if node.level else []
            base = ".".join([*above, *([node.module] if node.module else [])])
            yield from (f"{base}.{name.name}" for name in node.names)


def faults(text: str, module: str, *, is_package: bool = False) -> list[str]:
    """What a module imports that its room may not."""
    room = "tables" if module == "tunwright" else room_of(module)  # the package's own __init__ stands under all
    found = []
    for name in imports(text, module, is_package=is_package):
        top = name.split(".")[0]
        field = {"fluids"} if module.rsplit(".", maxsplit=1)[-1] in FIELD else set()
        if room == "handbook" and top not in {*sys.stdlib_module_names, "numpy", "scipy", "tunwright", *field}:
            found.append(f"{module} imports {name}: the handbook uses the standard library, numpy and scipy only")
        if top != "tunwright" or name in ("tunwright", "tunwright.__version__"):
            continue
        there = room_of(name)
        if there not in ROOMS:
            found.append(f"{module} imports {name}, which stands in no room")
        elif ROOMS.index(there) > ROOMS.index(room):
            found.append(f"{module} imports {name}: {there} is above {room}")
        elif room == "handbook" and there != "handbook":
            found.append(f"{module} imports {name}: the handbook knows no other room")
    return found


def test_every_module_stands_in_a_room() -> None:
    strays = [module_name(path) for path in python_files() if module_name(path) != "tunwright"]
    assert [module for module in strays if room_of(module) not in ROOMS] == []


def test_imports_run_downwards() -> None:
    found = []
    for path in python_files():
        text, is_package = path.read_text(encoding="utf-8"), path.name == "__init__.py"
        found += faults(text, module_name(path), is_package=is_package)
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    ("module", "line"),
    [
        ("tunwright.truck.axles", "from tunwright.checks import axles"),
        ("tunwright.truck.axles", "from ..checks.axles import run"),
        ("tunwright.truck.axles", "def late():\n    import tunwright.sheets.plan"),
        ("tunwright.handbook.beams", "import pydantic"),
        ("tunwright.handbook.beams", "from tunwright.tables import bolts"),
        ("tunwright.tables", "from tunwright.build import read"),
        ("tunwright.checks.axles", "import tunwright.attic"),
    ],
)
def test_an_upward_import_is_found(module: str, line: str) -> None:
    assert len(faults(line, module)) == 1


@pytest.mark.parametrize(
    ("module", "line"),
    [
        ("tunwright.checks.axles", "from tunwright.truck import axles\nfrom tunwright import __version__"),
        ("tunwright.handbook.beams", "import math\nimport numpy as np\nfrom scipy.linalg import solve"),
        ("tunwright.cli", "from tunwright.desk import serve\nimport click"),
        ("tunwright.truck.axles", "from .frame import Frame\nfrom ..handbook import beams"),
    ],
)
def test_a_downward_import_is_let_through(module: str, line: str) -> None:
    assert faults(line, module) == []


def test_no_file_is_too_long() -> None:
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in python_files()}
    assert {module_name(path): lines for path, lines in lengths.items() if lines > LONGEST_FILE} == {}


def own_files() -> list[Path]:
    """What belongs to the project: all that git tracks, or would."""
    listing = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    if not (ROOT / ".git").exists():
        pytest.skip("not a git checkout, so what belongs to the project is not known")
    names = subprocess.run(listing, cwd=ROOT, capture_output=True, check=True, text=True).stdout.split("\0")
    return [ROOT / name for name in names if name and (ROOT / name).is_file()]


def test_no_file_names_a_folder_of_one_machine() -> None:
    found = []
    for path in own_files():
        text = path.read_bytes().decode("utf-8", errors="ignore")
        found += [f"{path.relative_to(ROOT)}: {hit.group()}" for hit in MACHINE_PATH.finditer(text)]
    assert not found, "\n".join(found)


def test_a_folder_of_one_machine_would_be_found() -> None:
    assert MACHINE_PATH.search("see " + "/" + "home/somebody/build.toml")
    assert not MACHINE_PATH.search("5 kW/work/day, ../work/a, /usr/bin/env")


@pytest.mark.parametrize("name", ["run", "test"])
def test_locks_carry_hashes_and_no_address(name: str) -> None:
    text = (ROOT / "lock" / f"{name}.txt").read_text(encoding="utf-8")
    assert not re.search(r"://|@|--(?!hash=sha256:)|\.(com|org|net|io)\b", text)
    entries = re.split(r"\n(?=\w)", text.partition("\n")[2])
    unhashed = [entry.splitlines()[0] for entry in entries if "==" in entry and "--hash=sha256:" not in entry]
    assert unhashed == []


def project() -> dict[str, Any]:
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def names(requirements: list[str]) -> set[str]:
    return {re.split(r"[^\w.-]", requirement)[0] for requirement in requirements}


def pins(name: str) -> dict[str, str]:
    text = (ROOT / "lock" / f"{name}.txt").read_text(encoding="utf-8")
    return dict(re.findall(r"^([\w.-]+)==([^\s;]+)", text, re.MULTILINE))


def test_the_locks_hold_what_the_project_asks_for() -> None:
    asked = {"run": project()["dependencies"], "test": project()["optional-dependencies"]["test"]}
    for name, requirements in asked.items():
        assert names(requirements) - set(pins(name)) == set(), f"lock/{name}.txt is behind: bash lock/update.sh"


def test_the_project_asks_for_what_it_imports() -> None:
    used = set()
    for path in python_files():
        text, is_package = path.read_text(encoding="utf-8"), path.name == "__init__.py"
        used |= {name.split(".")[0] for name in imports(text, module_name(path), is_package=is_package)}
    at_hand = {"tunwright", "pydantic_core", *sys.stdlib_module_names}  # pydantic_core is the lower half of pydantic
    assert used - at_hand - names(project()["dependencies"]) == set()


def test_the_test_lock_contains_the_run_lock() -> None:
    assert pins("run").items() <= pins("test").items()
