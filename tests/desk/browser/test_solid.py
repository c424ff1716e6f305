"""The 3-D view in a real browser, drawn by software: that it shows something, follows the hands, and is given back."""

from __future__ import annotations

import base64
import re
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect, sync_playwright

from desk.browser.running import FLAGS, Desk, chromium, quiet
from desk.browser.test_access import axe

Api = Callable[..., Any]
Contexts = Callable[..., BrowserContext]
SMALL = {"width": 500, "height": 600}
SOFTWARE = ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]

COMPARE = """async (pictures) => {
  const read = async (picture) => {
    const bytes = Uint8Array.from(atob(picture), (one) => one.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
    const brush = new OffscreenCanvas(image.width, image.height).getContext("2d");
    brush.drawImage(image, 0, 0);
    return brush.getImageData(0, 0, image.width, image.height).data;
  };
  const [one, other] = await Promise.all(pictures.map(read));
  let count = 0;
  for (let i = 0; i < one.length; i += 4) {
    const apart = [0, 1, 2].reduce((sum, k) => sum + Math.abs(one[i + k] - other[i + k]), 0);
    if (apart > 12) count += 1;
  }
  return (4 * count) / one.length;
}"""

TONES = """async (picture) => {
  const bytes = Uint8Array.from(atob(picture), (one) => one.charCodeAt(0));
  const image = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
  const brush = new OffscreenCanvas(image.width, image.height).getContext("2d");
  brush.drawImage(image, 0, 0);
  const { data } = brush.getImageData(0, 0, image.width, image.height);
  const found = {};
  for (let i = 0; i < data.length; i += 4) {
    const tone = `rgb(${data[i]}, ${data[i + 1]}, ${data[i + 2]})`;
    found[tone] = (found[tone] || 0) + 4 / data.length;
  }
  return found;
}"""

COUNTED = """() => {
  const made = [];
  const get = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (kind, ...more) {
    const found = get.call(this, kind, ...more);
    if (kind === "webgl2" && found && !made.includes(found)) made.push(found);
    return found;
  };
  window.contexts = () => [made.length, made.filter((one) => !one.isContextLost()).length];
  window.drawn = 0;
  const { clear } = WebGL2RenderingContext.prototype;
  WebGL2RenderingContext.prototype.clear = function (what) {
    if (what & this.COLOR_BUFFER_BIT) window.drawn += 1;
    clear.call(this, what);
  };
}"""


@pytest.fixture(scope="module")
def chrome() -> Iterator[Browser]:
    """A browser that draws WebGL without a graphics chip."""
    with sync_playwright() as play:
        flags = [*(flag for flag in FLAGS if flag != "--disable-gpu"), *SOFTWARE]
        browser = play.chromium.launch(executable_path=chromium(), args=flags)
        yield browser
        browser.close()


@pytest.fixture
def context(context_of: Contexts) -> BrowserContext:
    """Small, since every pixel is drawn by the processor."""
    return context_of(viewport={"width": 820, "height": 800})


@pytest.fixture
def solid(bench: Page) -> Page:
    """The bench with the view open and drawn."""
    return opened(bench)


def opened(page: Page) -> Page:
    page.click("#solid")
    expect(seen(page)).to_contain_text("cut")
    return page


def at(context: BrowserContext, desk: Desk, slug: str) -> Page:
    page = context.new_page()
    page.goto(f"{desk.base}/b/{slug}/")
    quiet(page)
    return page


def dialog(page: Page) -> Locator:
    return page.locator("dialog.solid")


def seen(page: Page) -> Locator:
    """The sentence that says what is shown."""
    return page.locator("#solid-seen")


def press(page: Page, name: str) -> None:
    dialog(page).get_by_role("button", name=name, exact=True).click()


def told(page: Page, words: str) -> None:
    expect(seen(page)).to_contain_text(re.compile(r"\s".join(map(re.escape, words.split()))))


def picture(page: Page) -> str:
    """The model without the sentence below it, once nothing moves any more."""
    box = page.locator("dialog.solid canvas").bounding_box()
    assert box is not None
    clip = {"x": box["x"], "y": box["y"], "width": box["width"], "height": box["height"] - 60}
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    return base64.b64encode(page.screenshot(clip=clip)).decode("ascii")  # type: ignore[arg-type]


def changed(page: Page, before: str, after: str) -> float:
    """Share of the pixels that are not the same."""
    return float(page.evaluate(COMPARE, [before, after]))


def share(page: Page, role: str) -> float:
    """Share of the picture in the very tone of a role."""
    tone = page.evaluate(
        "(role) => { const one = document.createElement('i'); one.style.color = `var(--solid-${role})`;"
        " document.querySelector('.solid-stage').append(one); const { color } = getComputedStyle(one);"
        " one.remove(); return color; }",
        role,
    )
    return float(page.evaluate(TONES, picture(page)).get(tone, 0.0))


def test_it_opens_with_a_picture_and_says_what_it_shows(solid: Page) -> None:
    expect(dialog(solid)).to_be_visible()
    expect(solid.locator("dialog.solid canvas")).to_be_focused()
    told(solid, "Full, crew aboard,")
    told(solid, "Seen from behind on the left, 19° up. Not cut.")
    tones = solid.evaluate(TONES, picture(solid))
    assert len(tones) > 200
    assert 0.4 < share(solid, "paper") < 0.9  # most is paper, and not all
    assert share(solid, "still") < 0.001


def test_the_fill_changes_the_water_and_only_that_is_fetched(solid: Page, api: Api, slug: str) -> None:
    asked: list[str] = []
    solid.on("request", lambda one: asked.append(one.url) if "/mesh?" in one.url else None)
    before = picture(solid)
    solid.locator("#solid-fill").fill("40")
    told(solid, "40 % full")
    water = api("GET", f"/api/builds/{slug}/mesh?fill=0.4&only=water")["water"]
    told(solid, water)
    expect(solid.locator('output[for="solid-fill"]')).to_have_text(f"40 % · {water}")
    assert changed(solid, before, picture(solid)) > 0.02
    assert asked
    assert all("only=water" in one and "fill=0.4" in one for one in asked)
    solid.locator("#solid-fill").focus()
    for _ in range(12):
        solid.keyboard.press("ArrowLeft")
    told(solid, "28 % full")
    assert "fill=0.28" in asked[-1]


def test_it_takes_the_state_of_the_bench_and_gives_the_fill_back(bench: Page) -> None:
    bench.locator("#fill").fill("50")
    level = picture(opened(bench))
    press(bench, "Close")
    expect(dialog(bench)).to_have_count(0)
    bench.locator("#grade").select_option("0.12")
    bench.locator("#braking").select_option("0.5")
    opened(bench)
    told(bench, "50 % full, crew aboard, 12 % uphill, braking at 0.5 g")
    assert changed(bench, level, picture(bench)) > 0.01
    bench.locator("#solid-fill").fill("30")
    bench.keyboard.press("Escape")
    expect(dialog(bench)).to_have_count(0)
    expect(bench.locator("#solid")).to_be_focused()
    expect(bench.locator("#fill")).to_have_value("30")
    expect(bench.locator("#fill-words")).to_contain_text("30 %")
    expect(bench.locator("#loads-told")).to_contain_text(re.compile(r"30\s%\sfull"))


def test_a_cut_shows_the_face_of_the_water_and_of_the_plates(solid: Page) -> None:
    solid.locator("#solid-fill").fill("60")
    told(solid, "60 % full")
    press(solid, "Side")
    told(solid, "Seen from the left.")
    before, ink = picture(solid), share(solid, "ink")
    solid.get_by_label("cut", exact=True).select_option(label="lengthwise, from the left")
    told(solid, "Cut lengthwise, from the left, at y = 0.00 m.")
    assert changed(solid, before, picture(solid)) > 0.05
    wet = share(solid, "still")
    assert 0.04 < wet < 0.2
    assert share(solid, "ink") > ink + 0.002  # the lines of the plates and the hatch
    middle = picture(solid)
    solid.locator("#solid-place").fill("0.9")
    told(solid, "at y = 0.90 m")
    assert changed(solid, middle, picture(solid)) > 0.02
    solid.locator("#solid-place").fill("0")
    solid.locator("#solid-fill").fill("30")
    told(solid, "30 % full")
    assert share(solid, "still") < 0.7 * wet
    solid.locator("#solid-fill").fill("0")
    told(solid, "Empty")
    assert share(solid, "still") < 0.001


@pytest.mark.parametrize(
    "cut", ["lengthwise, from the right", "across, from the rear", "across, from the front", "level, from above"]
)
def test_every_cut_is_filled(solid: Page, cut: str) -> None:
    names = {"right": "Rear", "rear": "Rear", "front": "Front", "above": "Top"}
    press(solid, names[cut.rsplit(" ", 1)[1]])
    solid.get_by_label("cut", exact=True).select_option(label=cut)
    if "across" in cut:
        solid.locator("#solid-place").fill("3")
    told(solid, f"Cut {cut}, at")
    if "right" in cut:
        for _ in range(12):
            solid.locator("dialog.solid canvas").press("ArrowRight")
        told(solid, "Seen from the right.")
    assert share(solid, "still") > 0.04


def test_keys_turn_come_nearer_cut_and_reset(solid: Page) -> None:
    canvas = solid.locator("dialog.solid canvas")
    first = picture(solid)
    canvas.press("ArrowLeft")
    canvas.press("ArrowUp")
    told(solid, "27° up")
    assert changed(solid, first, picture(solid)) > 0.05
    canvas.press("+")
    told(solid, "nearer")
    canvas.press("-")
    canvas.press("-")
    told(solid, "further away")
    canvas.press("Home")
    told(solid, "behind on the left, 19° up. Not cut.")
    solid.wait_for_timeout(300)
    assert changed(solid, first, picture(solid)) < 1e-4
    canvas.press("]")
    told(solid, "Cut lengthwise, from the left, at y = 0.00 m.")
    canvas.press("]")
    told(solid, "at y = 0.05 m")
    canvas.press("[")
    canvas.press("[")
    told(solid, "at y = -0.05 m")
    canvas.press("Tab")
    expect(canvas).not_to_be_focused()


def test_buttons_show_it_from_each_side(solid: Page) -> None:
    views = {
        "Side": "the left.",
        "Front": "the front.",
        "Rear": "behind.",
        "Top": "above.",
        "Reset": "behind on the left, 19° up.",
    }
    found = []
    for name, words in views.items():
        press(solid, name)
        told(solid, f"Seen from {words}")
        found.append(picture(solid))
    assert all(changed(solid, one, other) > 0.03 for one, other in pairwise(found))
    assert len(set(found)) == len(views)


@pytest.mark.parametrize("wish", ["reduce", "no-preference"])
def test_who_wants_no_motion_gets_none(context_of: Contexts, desk: Desk, slug: str, wish: str) -> None:
    context = context_of(reduced_motion=wish, viewport=SMALL)
    context.add_init_script(f"({COUNTED})()")
    page = opened(at(context, desk, slug))
    page.evaluate("() => { window.drawn = 0; }")
    press(page, "Front")
    told(page, "Seen from the front.")
    page.wait_for_timeout(400)
    drawn = page.evaluate("() => window.drawn")
    assert drawn == 1 if wish == "reduce" else drawn > 1


@pytest.mark.slow
def test_opening_it_again_and_again_leaves_nothing_behind(
    context_of: Contexts, desk: Desk, slug: str, heard: list[str]
) -> None:
    context = context_of(viewport=SMALL)
    context.add_init_script(f"({COUNTED})()")
    page = at(context, desk, slug)
    page.on("console", lambda said: heard.append(said.text) if "WebGL" in said.text else None)
    for i in range(20):
        opened(page)
        assert page.evaluate("() => window.contexts()") == [i + 1, 1]
        page.keyboard.press("Escape")
        expect(dialog(page)).to_have_count(0)
    assert page.evaluate("() => window.contexts()") == [20, 0]
    page.locator("#solid").dblclick()  # twice at once is once
    expect(seen(page)).to_contain_text("cut")
    expect(dialog(page)).to_have_count(1)


def test_without_webgl_there_is_a_sentence(context_of: Contexts, desk: Desk, slug: str) -> None:
    context = context_of(color_scheme="dark", viewport={"width": 380, "height": 800})
    context.add_init_script(
        "{ const get = HTMLCanvasElement.prototype.getContext; HTMLCanvasElement.prototype.getContext ="
        " function (kind, ...more) { return kind === 'webgl2' ? null : get.call(this, kind, ...more); }; }"
    )
    page = at(context, desk, slug)
    page.click("#solid")
    expect(dialog(page).get_by_role("alert")).to_contain_text("draws no 3-D here")
    expect(dialog(page)).to_contain_text("front head, rear head, baffle 1")
    expect(page.locator("dialog.solid canvas")).to_have_count(0)
    expect(page.locator("#solid-fill")).to_be_hidden()
    press(page, "Close")
    expect(dialog(page)).to_have_count(0)


def test_it_fits_a_phone_and_follows_the_window(context_of: Contexts, desk: Desk, slug: str) -> None:
    page = opened(at(context_of(), desk, slug))
    page.get_by_label("cut", exact=True).select_option(label="across, from the rear")
    for width, height in ((820, 900), (380, 800), (800, 380), (1440, 900)):
        page.set_viewport_size({"width": width, "height": height})
        page.wait_for_function(
            "() => { const one = document.querySelector('dialog.solid canvas'), { clientWidth, clientHeight } ="
            " one.parentElement; return one.width === clientWidth && one.height === clientHeight; }"
        )
        stage, sideways = page.evaluate(
            "() => { const all = document.querySelector('dialog.solid'), stage = all.querySelector('.solid-stage');"
            " return [[stage.clientWidth, stage.clientHeight], all.scrollWidth > all.clientWidth]; }"
        )
        assert stage[0] > 0.85 * width
        assert stage[1] >= 180
        assert not sideways
        assert share(page, "paper") < 0.97
        for part in dialog(page).locator("button, select, input, output").all():
            box = part.bounding_box()
            assert box is not None
            assert box["x"] >= 0
            assert box["x"] + box["width"] <= width


def test_one_finger_turns_and_two_come_nearer(context_of: Contexts, desk: Desk, slug: str) -> None:
    context = context_of(viewport={"width": 380, "height": 800}, has_touch=True, is_mobile=True)
    page = opened(at(context, desk, slug))
    before = picture(page)
    line = context.new_cdp_session(page)

    def touch(kind: str, *points: tuple[float, float]) -> None:
        line.send(
            "Input.dispatchTouchEvent",
            {"type": kind, "touchPoints": [{"x": x, "y": y, "id": i} for i, (x, y) in enumerate(points)]},
        )

    touch("touchStart", (150, 250))
    for i in range(1, 9):
        touch("touchMove", (150 + 10 * i, 250 + 5 * i))
    touch("touchEnd")
    told(page, "38° up")
    assert changed(page, before, picture(page)) > 0.03
    touch("touchStart", (150, 250), (200, 250))
    for i in range(1, 9):
        touch("touchMove", (150 - 5 * i, 250), (200 + 5 * i, 250))
    touch("touchEnd")
    told(page, "38° up, nearer")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_serious_finding_for_access_in_the_view(context_of: Contexts, desk: Desk, slug: str, scheme: str) -> None:
    page = opened(at(context_of(color_scheme=scheme, viewport=SMALL), desk, slug))
    page.locator("dialog.solid summary").click()
    assert axe(page, "dialog.solid") == []


def test_it_changes_with_the_scheme(context_of: Contexts, desk: Desk, slug: str) -> None:
    page = opened(at(context_of(color_scheme="light", viewport=SMALL), desk, slug))
    light = picture(page)
    assert share(page, "paper") > 0.4
    page.emulate_media(color_scheme="dark")
    page.wait_for_timeout(200)
    assert share(page, "paper") > 0.4
    assert changed(page, light, picture(page)) > 0.9
