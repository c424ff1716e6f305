from __future__ import annotations

import csv
import io
import json
import re
import shutil
import subprocess
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import ezdxf
import pytest
from playwright.sync_api import BrowserContext, expect

from desk.browser.running import Desk, quiet

Api = Callable[..., Any]
KINDS = [
    "dossier", "arrangement.svg", "arrangement.dxf", "torque.pdf", "mounting.pdf", "mounting.dxf", "holes.dxf",
    "frame.pdf", "frame.svg", "frame.dxf", "pipes.pdf", "pipes.xlsx", "pipes.svg", "pipes.dxf",
    "side.svg", "side.dxf", "rear.svg", "rear.dxf", "plan.svg", "plan.dxf",
    "dip.csv", "loads.csv", "book.xlsx", "data.json",
]  # fmt: skip


def opened(name: str, content: bytes) -> None:
    """A sheet opens in a reader of its kind and has something in it."""
    READERS[Path(name).suffix](content)


def read_pdf(content: bytes) -> None:
    assert content.startswith(b"%PDF-")
    assert content.rstrip().endswith(b"%%EOF")
    if shutil.which("pdftotext"):
        done = subprocess.run(["pdftotext", "-", "-"], input=content, capture_output=True, check=True)
        text = done.stdout.decode()
        assert "Marrow Hollow" in text
        assert len(text) > 800


def read_svg(content: bytes) -> None:
    root = ET.fromstring(content)  # noqa: S314  # our own
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert len(list(root.iter("{http://www.w3.org/2000/svg}path"))) > 5


def read_dxf(content: bytes) -> None:
    document = ezdxf.read(io.StringIO(content.decode()))
    assert len(document.modelspace()) > 20
    assert not document.audit().errors


def read_csv(content: bytes) -> None:
    rows = list(csv.reader(io.StringIO(content.decode("utf-8-sig"))))
    assert len(rows) > 5
    assert len({len(row) for row in rows if row}) == 1


def read_json(content: bytes) -> None:
    assert len(json.loads(content)["findings"]) > 20


def read_xlsx(content: bytes) -> None:
    with zipfile.ZipFile(io.BytesIO(content)) as book:
        assert book.testzip() is None
        sheets = [name for name in book.namelist() if re.match(r"xl/worksheets/sheet\d+\.xml", name)]
        assert len(sheets) >= 3
        for name in sheets:
            rows = ET.fromstring(book.read(name)).findall(".//{*}row")  # noqa: S314  # our own
            assert len(rows) >= 3, name  # a heading, one row, what is to be known: a build may have one jet


READERS: dict[str, Callable[[bytes], None]] = {
    ".pdf": read_pdf, ".svg": read_svg, ".dxf": read_dxf, ".csv": read_csv, ".json": read_json, ".xlsx": read_xlsx,
}  # fmt: skip


def test_every_sheet_is_made_downloaded_and_opens(context: BrowserContext, desk: Desk, slug: str) -> None:
    page = context.new_page()
    page.goto(f"{desk.base}/b/{slug}/sheets")
    quiet(page)
    assert page.locator("[data-kind]").evaluate_all("all => all.map((one) => one.dataset.kind)") == KINDS
    for kind in KINDS:
        page.locator(f'[data-kind="{kind}"] button').click()
    for kind in KINDS:
        row = page.locator(f'[data-kind="{kind}"]')
        expect(row.locator(".how")).to_contain_text("made from the draft", timeout=60_000)
        with page.expect_download() as got:
            row.locator("a[download]").click()
        name = got.value.suggested_filename
        assert name.startswith(slug)
        opened(name, got.value.path().read_bytes())
    page.reload()
    expect(page.locator('[data-kind="dossier"] .how')).to_contain_text("made from the draft")


@pytest.mark.parametrize("kind", ["side.svg", "data.json"])
def test_a_sheet_of_a_revision_is_not_of_the_draft(
    context: BrowserContext, desk: Desk, api: Api, slug: str, kind: str
) -> None:
    version = api("GET", f"/api/builds/{slug}/draft")["version"]
    change = {"version": version, "changes": [{"path": ["tank", "middle"], "value": "3.61 m"}]}
    api("POST", f"/api/builds/{slug}/draft/set", change)
    page = context.new_page()
    page.goto(f"{desk.base}/b/{slug}/sheets")
    quiet(page)
    contents = []
    for source in ("1", "draft"):
        page.select_option("#source", source)
        page.locator(f'[data-kind="{kind}"] button').click()
        words = "made from the draft" if source == "draft" else "made from revision 1"
        expect(page.locator(f'[data-kind="{kind}"] .how')).to_contain_text(words)
        with page.expect_download() as got:
            page.locator(f'[data-kind="{kind}"] a[download]').click()
        contents.append(got.value.path().read_bytes())
    assert contents[0] != contents[1]
