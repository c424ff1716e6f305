"""Every page in both schemes and at the narrowest width: for those who do not see or point, and on a phone."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from desk.browser.running import Desk, quiet

Api = Callable[..., Any]
Contexts = Callable[..., BrowserContext]
BUILD_PAGES = ("/b/{}/", "/b/{}/findings", "/b/{}/pipes", "/b/{}/sheets", "/b/{}/revisions")
PAGES = ("/", "/new", "/me", *BUILD_PAGES, "/b/no-such-build/")
KEPT = ("serious", "critical")
LEAST = 11.0  # height of the font of the smallest letters in a drawing [px]


def axe(page: Page, part: str = "html") -> list[str]:
    """Serious findings of the rules for access in a part of a page."""
    package = pytest.importorskip("axe_playwright_python", reason="axe-playwright-python is not installed")
    page.evaluate((Path(package.__file__).parent / "axe.min.js").read_text(encoding="utf-8"))
    found = page.evaluate("(part) => axe.run(part, { resultTypes: ['violations'] })", part)["violations"]
    return [
        f"{one['impact']} {one['id']}: {one['help']}: {[node['html'][:120] for node in one['nodes'][:4]]}"
        for one in found
        if one["impact"] in KEPT
    ]


def go(page: Page, desk: Desk, address: str, slug: str) -> None:
    page.goto(desk.base + address.format(slug))
    if "no-such" not in address:
        quiet(page)


def forget_missing(heard: list[str]) -> None:
    heard[:] = [one for one in heard if "404" not in one]  # a browser notes the missing page in its console


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_serious_finding_for_access_on_any_page(
    context_of: Contexts, desk: Desk, slug: str, scheme: str, heard: list[str]
) -> None:
    page = context_of(color_scheme=scheme).new_page()
    found = {}
    for address in PAGES:
        go(page, desk, address, slug)
        found[address] = axe(page)
    forget_missing(heard)
    assert {address: one for address, one in found.items() if one} == {}


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_serious_finding_for_access_in_what_opens_on_the_bench(
    context_of: Contexts, desk: Desk, slug: str, scheme: str
) -> None:
    page = context_of(color_scheme=scheme).new_page()
    go(page, desk, "/b/{}/", slug)
    found = {}
    for part in page.locator("#form details.part > summary").all():
        part.evaluate("one => { one.parentElement.open = true; }")
    found["form"] = axe(page, "#form")
    page.click("#tab-text")
    found["text"] = axe(page, ".answers")
    page.click("#revise")
    found["revise"] = axe(page, "#revise-dialog")
    page.keyboard.press("Escape")
    page.click("#tab-findings")
    page.locator('#findings button[data-key="axle-front"]').click()
    expect(page.locator("#working ol.steps li").first).to_be_visible()
    found["working"] = axe(page, "#working")
    page.keyboard.press("Escape")
    for tab in ("position", "dip"):
        page.click(f"#tab-{tab}")
        found[tab] = axe(page, ".charts")
    given = page.locator('input[data-path="tank.middle"]')
    given.fill("3,7 m")
    given.press("Tab")
    expect(given).to_have_attribute("aria-invalid", "true")
    found["error"] = axe(page, "#form")
    assert {what: one for what, one in found.items() if one} == {}


@pytest.mark.parametrize("width", [380, 820])
def test_no_page_scrolls_sideways(
    context_of: Contexts, desk: Desk, api: Api, slug: str, heard: list[str], width: int
) -> None:
    draft = api("GET", f"/api/builds/{slug}/draft")
    change = {"version": draft["version"], "changes": [{"path": ["tank", "middle"], "value": "3.76 m"}]}
    version = api("POST", f"/api/builds/{slug}/draft/set", change)["version"]
    note = "Tank forwards by two hands as agreed with the yard on the telephone"
    api("POST", f"/api/builds/{slug}/revisions", {"version": version, "note": note, "base": 1})
    page = context_of(viewport={"width": width, "height": 800}).new_page()
    wide = {}
    for address in PAGES:
        go(page, desk, address, slug)
        if address.endswith("/sheets"):
            expect(page.locator("#source option")).to_have_count(3)
        wide[address] = page.evaluate("() => document.documentElement.scrollWidth")
    forget_missing(heard)
    assert {address: one for address, one in wide.items() if one > width} == {}


LETTERS = """svg => [...svg.querySelectorAll("text")].filter((one) => one.getBoundingClientRect().width).map((one) => {
    const { a, b } = one.getScreenCTM();
    return parseFloat(getComputedStyle(one).fontSize) * Math.hypot(a, b);
})"""


@pytest.mark.parametrize("width", [380, 820, 1280, 1440])
def test_charts_and_drawings_fit_and_can_be_read(context_of: Contexts, desk: Desk, slug: str, width: int) -> None:
    page = context_of(viewport={"width": width, "height": 800}).new_page()
    go(page, desk, "/b/{}/", slug)
    for tab in ("loads", "position", "dip"):
        page.click(f"#tab-{tab}")
        for place in ("#chart", "#side", "#rear"):
            svg = page.locator(f"{place} > svg[role=img]")
            right, letters = svg.evaluate("svg => svg.getBoundingClientRect().right"), svg.evaluate(LETTERS)
            assert right <= width + 0.5, f"{place} is cut at {width} px ({tab})"
            assert all(size >= LEAST for size in letters), f"{min(letters):.1f} px in {place} at {width} px ({tab})"


def test_a_figure_never_parts_from_its_unit(context_of: Contexts, desk: Desk, slug: str) -> None:
    page = context_of(viewport={"width": 380, "height": 800}).new_page()
    for address in ("/b/{}/", "/b/{}/findings"):
        go(page, desk, address, slug)
        page.wait_for_load_state("networkidle")
        said = page.locator("#answer, #findings, #plain, #feet").all_inner_texts()
        parted = [one for text in said for one in re.findall(r"\d(?:\u2009| (?:kg|L|mm|m|%)\b).{0,8}", text)]
        assert said
        assert parted == []


def focused(page: Page) -> str:
    return str(
        page.evaluate(
            "() => { const one = document.activeElement;"
            " return one.dataset?.hand || one.id || one.dataset?.path || one.dataset?.key || one.tagName; }"
        )
    )


def test_tab_visits_everything_on_the_bench(bench: Page) -> None:
    hands = bench.locator("[data-hand]").evaluate_all("all => all.map((one) => one.dataset.hand)")
    wanted = {"revise", "fill", "grade", "slope", "braking", "crew", "tab-loads", "tab-findings", *hands}
    seen = []
    for _ in range(160):
        bench.keyboard.press("Tab")
        seen.append(focused(bench))
        if wanted <= set(seen) and seen[-1] == "BODY":
            break
    assert wanted <= set(seen), wanted - set(seen)
    assert {"tank", "front", "rear", "baffle-0"} <= set(hands)


def test_the_whole_flow_by_keys_alone(bench: Page, api: Api, slug: str) -> None:
    def tab_to(name: str) -> None:
        for _ in range(200):
            if focused(bench) == name:
                return
            bench.keyboard.press("Tab")
        raise AssertionError(f"{name} is not reached by Tab")

    tab_to("tank")
    bench.keyboard.press("Shift+ArrowRight")
    bench.keyboard.press("Enter")
    expect(bench.locator('input[data-path="tank.middle"]')).to_have_value("3.85 m")
    tab_to("revise")
    bench.keyboard.press("Enter")
    expect(bench.locator("#note")).to_be_focused()
    bench.keyboard.type("by keys")
    tab_to("revise-yes")
    bench.keyboard.press("Enter")
    expect(bench.locator("#build-words")).to_contain_text("revision 2")
    assert api("GET", f"/api/builds/{slug}")["revisions"][-1]["note"] in ("by keys", "from the demo quarry-carrier")


def test_us_units_change_the_figures_and_not_the_file(context: BrowserContext, desk: Desk, api: Api, slug: str) -> None:
    page = context.new_page()
    try:
        page.goto(desk.base + "/me")
        page.check('input[name="units"][value="us"]')
        expect(page.locator("#me-said")).to_contain_text("Kept")
        go(page, desk, "/b/{}/", slug)
        expect(page.locator("#loads-told")).to_contain_text(re.compile(r"\d lb"))
        expect(page.locator("#side svg").first).to_contain_text(" lb")
        expect(page.locator("#fill-words")).to_contain_text("gal")
        expect(page.locator("#findings")).to_contain_text(" lb")
        assert page.locator("#findings", has_text=re.compile(r"\d kg\b")).count() == 0
        expect(page.locator('input[data-path="tank.middle"]')).to_have_value("3.75 m")
    finally:
        api("PUT", "/api/me", {"units": "order", "theme": "auto"})


def test_the_dark_scheme_is_dark_by_device_and_by_choice(context_of: Contexts, desk: Desk, slug: str) -> None:
    def lightness(page: Page) -> float:
        shown = page.evaluate("() => getComputedStyle(document.body).backgroundColor")
        return sum(map(float, re.findall(r"\d+", shown)[:3])) / 765

    dark = context_of(color_scheme="dark").new_page()
    go(dark, desk, "/b/{}/", slug)
    assert lightness(dark) < 0.2
    light = context_of(color_scheme="light").new_page()
    go(light, desk, "/b/{}/", slug)
    assert lightness(light) > 0.8
    light.evaluate("() => { document.documentElement.dataset.theme = 'dark'; }")
    assert lightness(light) < 0.2


def test_without_the_key_nobody_gets_in(context_of: Contexts, desk: Desk, heard: list[str]) -> None:
    page = context_of(storage_state=None).new_page()
    answer = page.goto(desk.base + "/")
    assert answer is not None
    assert answer.status == 401
    expect(page.locator("h1")).to_contain_text("locked")
    heard[:] = [one for one in heard if "401" not in one]  # a browser notes every refusal in its console
