"""Sheets made in the background."""

from __future__ import annotations

import csv
import io
import json
import time
import zipfile
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from tunwright.demos import demo_text
from tunwright.desk import jobs, makers, store
from tunwright.desk.models import Job

Ask = Callable[..., Any]


@pytest.fixture
def worker() -> Iterator[None]:
    jobs.queue.flush()
    one = jobs.worker()
    one.start()
    yield
    one.stop(graceful=True)


def finished(ask: Ask, key: str) -> Any:
    end = time.monotonic() + 60
    while time.monotonic() < end:
        status, job = ask("GET", f"/api/jobs/{key}")
        assert status == 200
        if job["state"] in ("done", "failed"):
            return job
        time.sleep(0.05)
    raise AssertionError(job)


def made(ask: Ask, slug: str, kind: str, **of: Any) -> Any:
    status, begun = ask("POST", f"/api/builds/{slug}/sheets", {"kind": kind, **of})
    assert status == 202
    job = finished(ask, begun["job"])
    assert job["state"] == "done", job["words"]
    return ask("GET", job["url"])[1]


def content(response: Any) -> bytes:
    return b"".join(response.streaming_content)


def test_a_dossier_is_made_and_given_again(worker: None, ask: Ask, quarry: str) -> None:
    status, begun = ask("POST", f"/api/builds/{quarry}/sheets", {"kind": "dossier"})
    assert status == 202
    job = finished(ask, begun["job"])
    assert (job["state"], job["progress"], job["of"]) == ("done", 1.0, "r1")
    response = ask("GET", job["url"])[1]
    assert response.headers["Content-Type"] == "application/pdf"
    assert response.headers["Content-Disposition"] == 'inline; filename="quarry-carrier-r1-dossier.pdf"'
    assert content(response).startswith(b"%PDF-")
    kept = ask("GET", job["url"] + "?download=1")[1]
    assert kept.headers["Content-Disposition"].startswith("attachment")
    kept.close()
    assert ask("POST", f"/api/builds/{quarry}/sheets", {"kind": "dossier", "revision": 1})[1] == begun
    jobs.path_of(Job.objects.get()).unlink()
    assert ask("GET", job["url"])[0] == 404
    assert ask("POST", f"/api/builds/{quarry}/sheets", {"kind": "dossier"})[1] != begun


STARTS = {"pdf": b"%PDF-", "svg": b"<svg", "dxf": b"  0\nSECTION", "json": b"{", "xlsx": b"PK", "csv": b""}


@pytest.mark.parametrize("kind", [kind for kind in makers.KINDS if kind != "dossier"])
def test_every_kind_is_made(kind: str) -> None:
    told: list[float] = []
    sheet = makers.make(kind, demo_text("village-carrier"), lambda part, _: told.append(part))
    assert sheet.startswith(STARTS[kind.rsplit(".", 1)[-1]])
    assert told == sorted(told)
    assert len(told) > 2


def test_the_tables_say_what_the_engine_says(worker: None, ask: Ask, quarry: str) -> None:
    rows = list(csv.DictReader(io.StringIO(content(made(ask, quarry, "loads.csv")).decode())))
    full = next(row for row in rows if row["water_l"] == max((r["water_l"] for r in rows), key=float))
    axles = [key for key in full if key.endswith("_kg") and key != "gross_kg"]
    names = [axle["name"] for axle in look_loads(ask, quarry)["axles"]]
    assert set(names) <= {key.removesuffix("_kg") for key in axles}
    assert sum(float(full[f"{name}_kg"]) for name in names) == pytest.approx(float(full["gross_kg"]), rel=1e-4)
    dip = list(csv.DictReader(io.StringIO(content(made(ask, quarry, "dip.csv")).decode())))
    columns = [key for key in dip[0] if key.endswith("litres")]
    gross = json.loads(content(made(ask, quarry, "data.json")))["volumes_l"]["gross"]
    litres = [sum(float(row[key]) for key in columns) for row in dip]
    assert litres == sorted(litres)
    assert litres[0] < 0.01 * gross < 0.99 * gross < litres[-1] < gross + 1


def look_loads(ask: Ask, slug: str) -> Any:
    return ask("POST", f"/api/builds/{slug}/look", {"parts": ["loads"]})[1]["loads"]


def test_the_workbook_holds_numbers_and_no_formulas() -> None:
    text = demo_text("quarry-carrier").replace('title = "', 'title = "=1+1 ')
    sheet = makers.make("book.xlsx", text, lambda *_: None)
    with zipfile.ZipFile(io.BytesIO(sheet)) as book:
        sheets = [book.read(name).decode() for name in book.namelist() if name.startswith("xl/worksheets/sheet")]
        names = book.read("xl/workbook.xml").decode()
    assert all(f'name="{name}"' in names for name in ("summary", "findings", "axle loads", "dip chart"))
    assert not any("<f>" in one for one in sheets)
    assert sheets[2].count('<c r="B') > 100


def test_a_broken_draft_fails_with_a_sentence(worker: None, ask: Ask, quarry: str) -> None:
    ask("PUT", f"/api/builds/{quarry}/draft", {"text": "format = 1\nnothing = 2\n", "version": 0})
    begun = ask("POST", f"/api/builds/{quarry}/sheets", {"kind": "side.svg", "revision": "draft"})[1]
    job = finished(ask, begun["job"])
    assert (job["state"], job["url"]) == ("failed", None)
    assert job["words"].startswith("The build file does not read: draft")
    assert ask("GET", f"/api/jobs/{job['id']}/file")[0] == 404


def test_a_fault_of_the_desk_shows_an_id(
    worker: None, ask: Ask, quarry: str, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def fall(*_: object) -> bytes:
        raise RuntimeError("inside")

    monkeypatch.setattr(jobs, "make", fall)
    begun = ask("POST", f"/api/builds/{quarry}/sheets", {"kind": "side.svg"})[1]
    words = finished(ask, begun["job"])["words"]
    assert "inside" not in words
    assert words.split()[-4] in caplog.text


def test_what_was_cut_short_is_said_and_what_waited_is_made(ask: Ask, quarry: str) -> None:
    build = store.find(quarry)
    cut = Job.objects.create(build=build, kind="side.svg", of="r1", text="", sha256="", program="", state="running")
    waits = jobs.ask(build, "side.svg", demo_text("quarry-carrier"), of="r1")
    jobs.queue.flush()
    jobs.tidy()
    cut.refresh_from_db()
    assert cut.state == "failed"
    assert "Ask for it again" in cut.words
    assert len(jobs.queue) == 1
    one = jobs.worker()
    one.start()
    assert finished(ask, str(waits.pk))["state"] == "done"
    one.stop(graceful=True)


def test_unknown_sheets_are_refused(ask: Ask, quarry: str) -> None:
    status, answer = ask("POST", f"/api/builds/{quarry}/sheets", {"kind": "song"})
    assert status == 400
    assert "arrangement.dxf" in answer["error"]["words"]
    assert ask("GET", "/api/jobs/00000000-0000-0000-0000-000000000000")[0] == 404
    assert ask("POST", f"/api/builds/{quarry}/sheets", {"kind": "dossier", "revision": 7})[0] == 404
