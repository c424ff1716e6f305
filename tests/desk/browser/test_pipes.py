"""The pipes page in a browser: valves are turned by a click and by keys, and are written into the draft."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from playwright.sync_api import BrowserContext, Page, expect

from desk.browser.running import Desk

Api = Callable[..., Any]


def opened(context: BrowserContext, desk: Desk, slug: str) -> Page:
    page = context.new_page()
    page.goto(f"{desk.base}/b/{slug}/pipes")
    expect(page.locator("#schematic svg")).to_be_visible()
    return page


def valve(page: Page, name: str) -> Any:
    return page.locator(f'#schematic [data-part="valve"][data-name="{name}"]')


def test_a_valve_is_opened_by_a_click_and_shut_by_a_key(context: BrowserContext, desk: Desk, slug: str) -> None:
    page = opened(context, desk, slug)
    expect(page.locator("#said")).not_to_contain_text("front head, left")
    valve(page, "V4").click()
    expect(page.locator("#said")).to_contain_text("front head, left")
    expect(valve(page, "V4")).to_have_attribute("data-state", "open")
    valve(page, "V4").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#said")).not_to_contain_text("front head, left")
    expect(valve(page, "V4")).to_be_focused()


def test_what_was_turned_is_taken_back_or_written_into_the_duty(
    context: BrowserContext, desk: Desk, api: Api, slug: str
) -> None:
    page = opened(context, desk, slug)
    valve(page, "V4").click()
    expect(page.locator("#said")).to_contain_text("front head, left")
    page.locator("#again").click()
    expect(page.locator("#said")).not_to_contain_text("front head, left")
    page.get_by_label("V3 stands").select_option("0.5")
    expect(valve(page, "V3")).to_have_attribute("data-state", "part")
    page.locator("#keep").click()
    expect(page.locator("#keep")).to_be_disabled()
    text = api("GET", f"/api/builds/{slug}/draft")["text"]
    assert 'open = ["V1"]' in text
    assert 'throttled = [{ valve = "V3", open = "50 %" }]' in text


def test_another_duty_and_another_fill_are_shown(context: BrowserContext, desk: Desk, slug: str) -> None:
    page = opened(context, desk, slug)
    page.get_by_label("duty").select_option("fill from a hydrant")
    expect(page.locator("#said")).to_contain_text("into the tank")
    page.locator("#fill").fill("30")
    expect(page.locator("#schematic")).to_contain_text("30 % full")


def test_a_build_without_pipework_says_what_to_add(context: BrowserContext, desk: Desk, api: Api) -> None:
    slug = api("POST", "/api/builds", {"from": "demo", "demo": "lane-carrier"})["slug"]
    page = context.new_page()
    page.goto(f"{desk.base}/b/{slug}/pipes")
    expect(page.locator("#told")).to_contain_text("This build has no pipework")


def test_the_whole_drawing_is_fitted_to_the_window_or_scrolls(context: BrowserContext, desk: Desk, slug: str) -> None:
    page = opened(context, desk, slug)
    drawing, whole = page.locator("#schematic svg"), page.get_by_label("whole drawing")
    panel = page.locator("#schematic").bounding_box()["width"]
    whole.check()
    assert drawing.bounding_box()["width"] <= panel
    whole.uncheck()
    assert drawing.bounding_box()["width"] > panel
    valve(page, "V4").click()
    expect(page.locator("#said")).to_contain_text("front head, left")
    expect(whole).not_to_be_checked()
