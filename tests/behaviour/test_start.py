"""start.py: what it decides before anything is installed, and that it never answers with a traceback."""

from __future__ import annotations

import ast
import importlib.util
import shutil
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

START = Path(__file__).parents[2] / "start.py"


@pytest.fixture
def start(tmp_path: Path) -> ModuleType:
    """start.py, as if it stood in a folder of its own, with a space in its path."""
    home = tmp_path / "water carrier"
    (home / "lock").mkdir(parents=True)
    for name in ("run", "test"):
        (home / "lock" / f"{name}.txt").write_text(f"{name}==1\n", encoding="utf-8")
    spec = importlib.util.spec_from_file_location("start", shutil.copy(START, home))
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def done(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The steps that start.py took, none of them carried out."""
    steps: list[str] = []

    def make_venv() -> None:
        steps.append("venv")
        start.PYTHON.parent.mkdir(parents=True, exist_ok=True)
        start.PYTHON.touch()

    monkeypatch.setattr(start, "make_venv", make_venv)
    monkeypatch.setattr(start, "install", steps.append)
    return steps


def test_a_second_start_installs_nothing(start: ModuleType, done: list[str]) -> None:
    start.prepare(["run"])
    start.prepare(["run"])
    assert done == ["venv", "run"]


def test_the_test_tools_come_on_top_and_stay(start: ModuleType, done: list[str]) -> None:
    start.prepare(["run"])
    start.prepare(["run", "test"])
    start.prepare(["run"])
    start.prepare(["run", "test"])
    assert done == ["venv", "run", "test"]


def test_a_fresh_clone_needs_one_installation_for_the_tests(start: ModuleType, done: list[str]) -> None:
    start.prepare(["run", "test"])
    assert done == ["venv", "test"]


@pytest.mark.parametrize(("lock", "again"), [("run", ["venv", "test"]), ("test", ["test"])])
def test_a_changed_lock_is_installed(start: ModuleType, done: list[str], lock: str, again: list[str]) -> None:
    start.prepare(["run", "test"])
    done.clear()
    start.lock_file(lock).write_text("run==2\n", encoding="utf-8")
    start.prepare(["run", "test"])
    assert done == again


def test_a_half_made_venv_is_made_anew(start: ModuleType, done: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(_name: str) -> None:
        raise start.Trouble("no network")

    with monkeypatch.context() as broken:
        broken.setattr(start, "install", fail)
        with pytest.raises(start.Trouble):
            start.prepare(["run"])
    start.prepare(["run"])
    assert done == ["venv", "venv", "run"]


def test_another_python_makes_it_anew(start: ModuleType, done: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    start.prepare(["run"])
    monkeypatch.setattr(sys, "base_prefix", "another python")
    start.prepare(["run"])
    assert done == ["venv", "run", "venv", "run"]


def test_an_old_python_can_read_it() -> None:
    ast.parse(START.read_text(encoding="utf-8"), feature_version=(3, 7))


def test_an_old_python_is_told_so(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    with pytest.raises(start.Trouble, match=r"needs 3\.11 or newer"):
        start.check_python()


def test_a_missing_venv_module_says_what_to_install(start: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == "ensurepip" else object())
    with pytest.raises(start.Trouble, match=r"apt install python3 python3-venv[\s\S]*dnf[\s\S]*macOS[\s\S]*Windows"):
        start.check_python()


@pytest.mark.parametrize(
    ("printed", "sentence"),
    [
        ("WARNING: Retrying (Retry(total=4))\nERROR: No matching distribution", "index could not be reached"),
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES", "refused"),
        ("ERROR: No matching distribution found for typst==0.15.2", "does not exist ready-made"),
        ("ERROR: [Errno 28] No space left on device", "disk is full"),
        ("ERROR: something new", "something new"),
    ],
)
def test_a_failed_installation_is_explained(start: ModuleType, printed: str, sentence: str) -> None:
    assert sentence in start.explain(printed)


def test_trouble_is_a_sentence_and_an_exit_code(start: ModuleType) -> None:
    start.lock_file("run").unlink()
    ran = subprocess.run([sys.executable, start.__file__], capture_output=True, text=True, check=False)
    assert ran.returncode == 1
    assert "run.txt" in ran.stderr
    assert "Traceback" not in ran.stderr
