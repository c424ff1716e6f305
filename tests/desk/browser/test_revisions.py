from __future__ import annotations

import re
from collections.abc import Callable
from hashlib import sha256
from typing import Any

from playwright.sync_api import BrowserContext, Page, expect

from desk.browser.running import Desk, quiet

Api = Callable[..., Any]


def move(page: Page, place: str) -> None:
    given = page.locator('input[data-path="tank.middle"]')
    given.fill(place)
    given.press("Tab")
    expect(page.locator("#undo")).to_be_enabled()
    expect(page.locator("#saved")).to_contain_text("draft saved")


def save(page: Page, note: str) -> None:
    page.click("#revise")
    page.fill("#note", note)
    page.click("#revise-yes")


def test_a_saved_revision_is_there_after_loading_again_and_its_figures_are_compared(
    bench: Page, desk: Desk, api: Api, slug: str
) -> None:
    before = api("GET", f"/api/builds/{slug}/diff?from=1&to=draft")["figures"]
    assert before == []
    move(bench, "3.61 m")
    save(bench, "Tank forwards, as agreed")
    expect(bench.locator("#build-words")).to_contain_text("revision 2")
    bench.reload()
    quiet(bench)
    expect(bench.locator("#build-words")).to_contain_text("revision 2")
    expect(bench.locator('input[data-path="tank.middle"]')).to_have_value("3.61 m")
    found = api("GET", f"/api/builds/{slug}")["revisions"]
    newest = max(found, key=lambda one: one["number"])
    text = api("GET", f"/api/builds/{slug}/revisions/2/text")
    assert newest["note"] == "Tank forwards, as agreed"
    assert newest["sha256"] == sha256(text.encode()).hexdigest()
    bench.goto(f"{desk.base}/b/{slug}/revisions")
    quiet(bench)
    expect(bench.locator("#revisions")).to_contain_text("Tank forwards, as agreed")
    expect(bench.locator("#from")).to_have_value("1")
    expect(bench.locator("#to")).to_have_value("2")
    expect(bench.locator("#diff tr.in")).to_contain_text("3.61 m")
    expect(bench.locator("#diff tr.out")).to_contain_text("3.75 m")
    for one in api("GET", f"/api/builds/{slug}/diff?from=1&to=2")["figures"]:
        row = bench.locator("#figures tbody tr", has_text=one["what"]).first
        expect(row).to_contain_text(one["to"])
    front = bench.locator("#figures tbody tr", has_text="front axle, full")
    expect(front).to_contain_text(re.compile(r"\d\s\d{3}\skg.*\d\s\d{3}\skg"))


def test_an_old_revision_taken_as_the_draft_can_be_undone_on_the_bench(
    bench: Page, desk: Desk, api: Api, slug: str
) -> None:
    move(bench, "3.61 m")
    save(bench, "two")
    expect(bench.locator("#build-words")).to_contain_text("revision 2")
    bench.goto(f"{desk.base}/b/{slug}/revisions")
    bench.get_by_role("button", name="Take revision 1 as the draft").click()
    bench.get_by_role("button", name="To the bench").click()
    quiet(bench)
    expect(bench.locator('input[data-path="tank.middle"]')).to_have_value("3.75 m")
    bench.click("#undo")
    expect(bench.locator('input[data-path="tank.middle"]')).to_have_value("3.61 m")


def test_two_at_one_draft_are_told_and_nothing_is_lost(
    bench: Page, context_of: Callable[..., BrowserContext], desk: Desk, api: Api, slug: str, heard: list[str]
) -> None:
    other = context_of().new_page()
    other.goto(f"{desk.base}/b/{slug}/")
    quiet(other)
    move(bench, "3.61 m")
    given = other.locator('input[data-path="tank.length"]')
    given.fill("5 m")
    given.press("Tab")
    notice = other.locator("#notice-conflict")
    expect(notice).to_be_visible()
    text = api("GET", f"/api/builds/{slug}/draft")["text"]
    assert 'middle = "3.61 m"' in text
    assert 'length = "4.9 m"' in text
    notice.get_by_role("button", name="Go on from theirs").click()
    expect(notice).to_be_hidden()
    expect(other.locator('input[data-path="tank.middle"]')).to_have_value("3.61 m")
    given.fill("5 m")
    given.press("Tab")
    expect(other.locator("#side svg").first).to_contain_text(re.compile(r"tank 5\s000"))
    assert 'length = "5 m"' in api("GET", f"/api/builds/{slug}/draft")["text"]
    heard[:] = [one for one in heard if "409" not in one]  # a browser notes every refusal in its console


def test_what_was_typed_before_a_conflict_can_be_put_in_its_place(
    bench: Page, context_of: Callable[..., BrowserContext], desk: Desk, api: Api, slug: str, heard: list[str]
) -> None:
    other = context_of().new_page()
    other.goto(f"{desk.base}/b/{slug}/")
    quiet(other)
    move(bench, "3.61 m")
    given = other.locator('input[data-path="tank.length"]')
    given.fill("5 m")
    given.press("Tab")
    expect(other.locator("#notice-conflict")).to_be_visible()
    other.get_by_role("button", name="Put mine in its place").click()
    expect(other.locator("#notice-conflict")).to_be_hidden()
    expect(other.locator("#saved")).to_contain_text("draft saved")
    text = api("GET", f"/api/builds/{slug}/draft")["text"]
    heard[:] = [one for one in heard if "409" not in one]  # see above
    assert 'length = "5 m"' in text


def test_a_broken_draft_is_not_saved_as_a_revision(bench: Page, api: Api, slug: str, heard: list[str]) -> None:
    bench.click("#tab-text")
    area = bench.locator("#text")
    area.fill(area.input_value().replace('"3.75 m"', '"3,7 m"'))
    expect(bench.locator("#notice-broken")).to_be_visible()
    save(bench, "broken")
    expect(bench.locator("#revise-wrong")).to_contain_text("3,7")
    assert len(api("GET", f"/api/builds/{slug}")["revisions"]) == 1
    heard[:] = [one for one in heard if "400" not in one]  # a browser notes every refusal in its console


def test_import_and_export_are_word_for_word(context: BrowserContext, desk: Desk, api: Api, slug: str) -> None:
    text = "# kept as it is\r\n" + api("GET", f"/api/builds/{slug}/draft")["text"]
    page = context.new_page()
    page.goto(desk.base + "/new")
    file = {"name": "yard.toml", "mimeType": "application/toml", "buffer": text.encode()}
    page.set_input_files("#new-file", file)
    page.get_by_role("button", name="Take it in").click()
    page.wait_for_url(re.compile(r"/b/"))
    page.goto(page.url + "revisions")
    quiet(page)
    with page.expect_download() as got:
        page.get_by_role("link", name="Download the text of revision 1").click()
    assert got.value.path().read_bytes() == text.encode()
