"""The wheel holds everything that stands in src: code, tables, sheets."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def test_the_wheel_holds_every_file_of_the_source(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    hatchling = pytest.importorskip("hatchling.build")
    if not (ROOT / "README.md").exists():
        pytest.skip("a wheel carries the README")
    monkeypatch.chdir(ROOT)
    source = [path for path in (ROOT / "src" / "tunwright").rglob("*.*") if path.suffix != ".pyc" and path.is_file()]
    packed = zipfile.ZipFile(tmp_path / hatchling.build_wheel(str(tmp_path))).namelist()
    assert {path.relative_to(ROOT / "src").as_posix() for path in source} - set(packed) == set()
    assert any(name.endswith("/licenses/NOTICE") for name in packed)


def test_the_version_stands_in_one_place() -> None:
    text = (ROOT / "src" / "tunwright" / "__init__.py").read_text(encoding="utf-8")
    assert len(re.findall(r'^__version__ = "\d+\.\d+\.\d+"$', text, re.MULTILINE)) == 1
    assert not re.search(r"^version\s*=", (ROOT / "pyproject.toml").read_text(encoding="utf-8"), re.MULTILINE)
