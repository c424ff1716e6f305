from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page, expect

from desk.browser.running import Desk, quiet

Api = Callable[..., Any]
STATE = {"fill": 1, "grade": 0, "braking": 0, "slope": 0, "crew": True}


def field(page: Page, path: str) -> Locator:
    return page.locator(f'input[data-path="{path}"]')


def plain(words: str) -> str:
    """With plain spaces for the narrow and the tied ones."""
    return " ".join(words.split())


def spaced(words: str) -> re.Pattern[str]:
    """Words that may stand with any kind of space."""
    return re.compile(r"\s".join(map(re.escape, words.split())))


def looked(api: Api, slug: str, changes: list[Any] | None = None, state: dict[str, Any] | None = None) -> list[str]:
    """The loads under the wheels, as the API has them."""
    body = {"changes": changes or [], "state": state or STATE, "parts": ["loads"]}
    loads = api("POST", f"/api/builds/{slug}/look", body)["loads"]
    under = [*(loads.get("supports") or loads["groups"]), loads["gross"]]
    return [plain(one["shown"]) for one in under]


def agree(page: Page, api: Api, slug: str, changes: list[Any] | None = None) -> None:
    """What stands in the page is what the API says: in words and under the wheels."""
    *wheels, gross = looked(api, slug, changes)
    for shown in (*wheels, gross):
        expect(page.locator("#loads-told")).to_contain_text(spaced(shown))
    for shown in wheels:
        expect(page.locator('#side [data-part="load"]', has_text=spaced(shown)).first).to_be_visible()


def drag(page: Page, hand: str, right: float) -> None:
    """Take hold of a handle and move it, without letting go."""
    box = page.locator(f"[data-hand={hand}] .reach").bounding_box()
    assert box is not None
    x, y = box["x"] + 0.3 * box["width"], box["y"] + 0.3 * box["height"]
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right / 2, y, steps=4)
    page.mouse.move(x + right, y, steps=4)


def draft(api: Api, slug: str) -> str:
    return str(api("GET", f"/api/builds/{slug}/draft")["text"])


def test_the_list_leads_to_the_bench(context: BrowserContext, desk: Desk, api: Api, slug: str) -> None:
    page = context.new_page()
    page.goto(desk.base + "/")
    quiet(page)
    row = page.locator("#builds li", has=page.locator(f'a[href="/b/{slug}/"]'))
    expect(row.locator("svg[data-scale]")).to_be_visible()
    expect(row.locator(".verdict")).to_be_visible()
    row.locator("a.title").click()
    quiet(page)
    expect(page.locator("#side svg[data-scale]")).to_be_visible()
    expect(page.locator("#rear svg")).to_be_visible()
    assert page.locator("#findings li").count() > 20
    agree(page, api, slug)


def test_a_dragged_tank_shows_the_loads_the_api_says_and_is_written_once_on_release(
    bench: Page, api: Api, slug: str
) -> None:
    before, written = draft(api, slug), []
    bench.on("request", lambda one: written.append(one.url) if one.url.endswith("/draft/set") else None)
    drag(bench, "tank", 40)
    expect(bench.locator("#held-words")).to_contain_text("middle of the tank")
    words = bench.locator("#held-words").inner_text()
    there = re.search(r"(\d\.\d+) m", words)
    assert there is not None
    value = there[0]
    assert value != "3.75 m"
    agree(bench, api, slug, [{"path": ["tank", "middle"], "value": value}])
    assert draft(api, slug) == before
    bench.mouse.up()
    expect(field(bench, "tank.middle")).to_have_value(value)
    expect(bench.locator("#saved")).to_contain_text("draft saved")
    assert draft(api, slug) == before.replace('middle = "3.75 m"', f'middle = "{value}"')
    assert len(written) == 1
    agree(bench, api, slug)


def test_an_end_that_is_dragged_lengthens_the_tank_and_the_other_end_stays(bench: Page, api: Api, slug: str) -> None:
    drag(bench, "rear", 30)
    bench.mouse.up()
    expect(field(bench, "tank.length")).not_to_have_value("4.9 m")
    length = float(field(bench, "tank.length").input_value().removesuffix(" m"))
    middle = float(field(bench, "tank.middle").input_value().removesuffix(" m"))
    assert length > 4.9
    assert abs((middle - length / 2) - (3.75 - 4.9 / 2)) < 0.0011
    agree(bench, api, slug)


def test_a_baffle_and_a_fitting_can_be_dragged(bench: Page, api: Api, slug: str) -> None:
    before = draft(api, slug)
    drag(bench, "baffle-1", 20)
    bench.mouse.up()
    expect(bench.locator("#undo")).to_be_enabled()
    expect(bench.locator("#saved")).to_contain_text("draft saved")
    one = draft(api, slug)
    assert one != before
    drag(bench, "item-0", 20)
    bench.mouse.up()
    expect(bench.locator("#undo")).to_have_attribute("title", re.compile("pump"))
    changed = [(a, b) for a, b in zip(one.splitlines(), draft(api, slug).splitlines(), strict=True) if a != b]
    assert len(changed) == 1
    assert changed[0][0].startswith("at =")
    agree(bench, api, slug)


def test_keys_move_the_tank_by_their_steps(bench: Page, api: Api, slug: str) -> None:
    hand = bench.locator("[data-hand=tank]")
    hand.focus()
    for keys, place in (("ArrowRight", "3.76 m"), ("Shift+ArrowRight", "3.86 m"), ("Alt+ArrowLeft", "3.859 m")):
        bench.keyboard.press(keys)
        expect(bench.locator("#held-words")).to_contain_text(place)
    bench.keyboard.press("Enter")
    expect(field(bench, "tank.middle")).to_have_value("3.859 m")
    expect(hand).to_have_attribute("aria-valuetext", "3.859 m")
    agree(bench, api, slug)
    bench.keyboard.press("ArrowRight")
    bench.keyboard.press("Escape")
    expect(bench.locator("#held-words")).to_be_hidden()
    assert 'middle = "3.859 m"' in draft(api, slug)
    agree(bench, api, slug)


def test_undo_and_redo_give_back_the_very_text(bench: Page, api: Api, slug: str) -> None:
    first = draft(api, slug)
    bench.locator("[data-hand=tank]").focus()
    bench.keyboard.press("Shift+ArrowRight")
    bench.keyboard.press("Enter")
    expect(field(bench, "tank.middle")).to_have_value("3.85 m")
    second = draft(api, slug)
    bench.click("#undo")
    expect(field(bench, "tank.middle")).to_have_value("3.75 m")
    assert draft(api, slug) == first
    agree(bench, api, slug)
    bench.keyboard.press("Control+Shift+z")
    expect(field(bench, "tank.middle")).to_have_value("3.85 m")
    assert draft(api, slug) == second
    bench.keyboard.press("Control+z")
    expect(field(bench, "tank.middle")).to_have_value("3.75 m")
    expect(bench.locator("#undo")).to_be_disabled()


def test_a_field_changes_the_drawing_and_keeps_the_unit_as_typed(bench: Page, api: Api, slug: str) -> None:
    field(bench, "tank.middle").fill("3820 mm")
    field(bench, "tank.middle").press("Tab")
    expect(bench.locator("#side svg").first).to_contain_text(re.compile(r"3\s820"))
    assert 'middle = "3820 mm"' in draft(api, slug)
    agree(bench, api, slug)


def test_where_a_figure_comes_from_is_shown_and_can_be_said(bench: Page, api: Api, slug: str) -> None:
    bench.locator('select[data-path="tank.length"]').select_option("measured")
    expect(bench.locator("#undo")).to_be_enabled()
    assert re.search(r'length = \{ value = "4.9 m", from = "measured" \}', draft(api, slug))
    expect(bench.locator('select[data-path="tank.length"]')).to_have_value("measured")


def test_a_comma_is_refused_at_its_field_and_the_draft_is_kept(bench: Page, api: Api, slug: str) -> None:
    before = draft(api, slug)
    given = field(bench, "tank.middle")
    given.fill("3,7 m")
    given.press("Tab")
    expect(given).to_have_attribute("aria-invalid", "true")
    line = bench.locator(".line", has=given)
    expect(line.locator(".wrong")).to_contain_text(re.compile(r"3[.,]7"))
    expect(given).to_have_value("3,7 m")
    kept = draft(api, slug)
    assert kept in (before, before.replace('middle = "3.75 m"', 'middle = "3,7 m"'))
    expect(bench.locator("#side svg").first).to_be_visible()
    given.fill("3.7 m")
    given.press("Tab")
    expect(given).not_to_have_attribute("aria-invalid", "true")
    expect(bench.locator("#side svg").first).to_contain_text(re.compile(r"3\s700"))
    agree(bench, api, slug)


def test_text_and_form_are_one_draft(bench: Page, api: Api, slug: str) -> None:
    bench.click("#tab-text")
    area = bench.locator("#text")
    text = area.input_value()
    assert text == draft(api, slug)
    area.fill(text.replace('middle = "3.75 m"', 'middle = "3.80 m" # tried'))
    expect(field(bench, "tank.middle")).to_have_value("3.80 m")
    field(bench, "tank.middle").fill("3.81 m")
    field(bench, "tank.middle").press("Tab")
    expect(area).to_have_value(re.compile(r'middle = "3\.81 m" # tried'))
    agree(bench, api, slug)


def test_a_text_that_does_not_read_is_kept_with_its_line_named(bench: Page, api: Api, slug: str) -> None:
    bench.click("#tab-text")
    area = bench.locator("#text")
    broken = area.input_value().replace('middle = "3.75 m"', 'middle = "3,7 m"')
    line = broken[: broken.index('middle = "3,7 m"')].count("\n") + 1
    area.fill(broken)
    expect(bench.locator("#problems")).to_contain_text(f"line {line}")
    expect(bench.locator("#notice-broken")).to_be_visible()
    expect(bench.locator("#side svg[data-scale]")).to_be_visible()
    assert draft(api, slug) == broken
    bench.reload()
    expect(bench.locator("#notice-broken")).to_be_visible()
    bench.click("#tab-text")
    expect(bench.locator("#text")).to_have_value(broken)


def test_the_load_state_moves_water_and_loads(bench: Page, api: Api, slug: str) -> None:
    water = bench.locator('#side [data-part="water"]').first
    full = water.evaluate("one => one.outerHTML")
    bench.locator("#fill").fill("40")
    bench.locator("#grade").select_option(label="12 % downhill")
    bench.locator("#crew").uncheck()
    state = STATE | {"fill": 0.4, "grade": -0.12, "crew": False}
    for shown in looked(api, slug, state=state):
        expect(bench.locator("#loads-told")).to_contain_text(spaced(shown))
    assert water.evaluate("one => one.outerHTML") != full


def test_a_finding_opens_to_its_working_and_leads_to_its_input(bench: Page) -> None:
    bench.locator('#findings button[data-key="axle-front"]').click()
    box = bench.locator("#working")
    expect(box.locator("ol.steps li").first).to_be_visible()
    expect(box).to_contain_text("Limit from")
    bench.keyboard.press("Escape")
    expect(box).to_be_hidden()


def test_charts_read_off_by_keys(bench: Page) -> None:
    for tab, words in (("loads", "L"), ("position", "mm"), ("dip", "mm")):
        bench.click(f"#tab-{tab}")
        bench.locator("#chart svg").focus()
        bench.keyboard.press("End")
        bench.keyboard.press("ArrowLeft")
        expect(bench.locator("#readout b")).to_contain_text(words)


def test_a_broken_draft_opened_fresh_shows_the_revision_and_what_is_to_mend(
    context: BrowserContext, desk: Desk, api: Api, slug: str
) -> None:
    text = draft(api, slug)
    broken = text.replace('length = "4.9 m"', 'length = "4.9 kg"')
    api("PUT", f"/api/builds/{slug}/draft", {"text": broken, "version": 0})
    page = context.new_page()
    page.goto(f"{desk.base}/b/{slug}/")
    expect(page.locator("#side svg[data-scale]")).to_be_visible()
    expect(page.locator("#rear svg[data-scale]")).to_be_visible()
    expect(page.locator("#side")).to_have_class(re.compile(r"\bold\b"))
    expect(page.locator("#notice-broken")).to_contain_text("one thing to mend. Drawn is revision 1; the text is kept.")
    expect(page.locator("#problems li")).to_have_count(1)
    expect(page.locator("#problems")).to_contain_text("4.9 kg")
    page.locator("#tab-findings").click()
    expect(page.locator("#answer")).to_contain_text("No verdicts while the draft does not read")
    page.locator("#tab-text").click()
    page.locator("#text").fill(text)
    expect(page.locator("#notice-broken")).to_have_count(0)
    expect(page.locator("#side")).not_to_have_class(re.compile(r"\bold\b"))
    page.locator("#tab-findings").click()
    quiet(page)
    agree(page, api, slug)


def test_a_look_that_does_not_come_back_says_so_and_can_be_asked_again(bench: Page, heard: list[str]) -> None:
    bench.route("**/look", lambda route: route.abort())
    bench.locator("[data-hand=tank]").press("ArrowRight")
    expect(bench.locator("#answer")).to_contain_text("the desk did not answer")
    expect(bench.locator("#findings")).to_have_attribute("aria-busy", "false")
    bench.unroute("**/look")
    bench.get_by_role("button", name="Try again").click()
    quiet(bench)
    expect(bench.locator("#answer")).not_to_contain_text("the desk did not answer")
    heard[:] = [one for one in heard if "ERR_FAILED" not in one]  # a browser notes the lost request in its console
