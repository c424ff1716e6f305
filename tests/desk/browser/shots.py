"""Pictures of every page at three widths in both schemes: `python tests/desk/browser/shots.py FOLDER`."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))

from playwright.sync_api import Browser, Page

from desk.browser.running import Desk, ask, browsing, let_in, quiet, running

WIDTHS = (1440, 820, 380)
SCHEMES = ("light", "dark")
HEIGHT = 900


def pages(slug: str, us: str, broken: str) -> dict[str, str]:
    """Names of pictures and the pages they show."""
    return {
        "builds": "/",
        "new": "/new",
        "settings": "/me",
        "bench": f"/b/{slug}/",
        "bench-us": f"/b/{us}/",
        "bench-broken": f"/b/{broken}/",
        "findings": f"/b/{slug}/findings",
        "pipes": f"/b/{slug}/pipes",
        "sheets": f"/b/{slug}/sheets",
        "revisions": f"/b/{slug}/revisions?from=1&to=2",
        "missing": "/b/no-such-build/",
    }


def prepare(browser: Browser, desk: Desk, state: Any) -> dict[str, str]:
    """Builds with something to look at: a second revision, a draft that does not read, a sheet that is made."""
    context = browser.new_context(storage_state=state)
    context.new_page().goto(desk.base + "/")
    api = f"{desk.base}/api/builds"
    slugs = [one["slug"] for one in ask(context, "GET", api)["builds"]]
    slug = next(one for one in slugs if one.startswith("quarry") or "quarry" in one)
    us = next((one for one in slugs if "brush" in one), slug)
    broken = ask(context, "POST", api, {"from": "demo", "demo": "village-carrier"})["slug"]
    draft = ask(context, "GET", f"{api}/{broken}/draft")
    text = draft["text"].replace(' m"', ',5 m"', 3)
    ask(context, "PUT", f"{api}/{broken}/draft", {"text": text, "version": draft["version"]})
    draft = ask(context, "GET", f"{api}/{slug}/draft")
    change = {"version": draft["version"], "changes": [{"path": ["tank", "middle"], "value": "3.61 m"}]}
    version = ask(context, "POST", f"{api}/{slug}/draft/set", change)["version"]
    note = "Tank 200 mm forwards, as agreed with the yard"
    ask(context, "POST", f"{api}/{slug}/revisions", {"version": version, "note": note, "base": draft["base"]})
    context.close()
    return pages(slug, us, broken)


def extras(page: Page, name: str, save: Any) -> None:
    """What a page shows only when asked."""
    if name == "bench":
        page.locator("#findings button.finding").first.click()
        page.wait_for_selector("#working h2")
        save("working")
        page.keyboard.press("Escape")
        page.click("#revise")
        save("revise")
        page.keyboard.press("Escape")
        page.click("#tab-text")
        save("text")
        page.click("#tab-findings")
        for tab in ("position", "dip"):
            page.click(f"#tab-{tab}")
            save(f"chart-{tab}")
        page.locator("[data-hand=tank]").focus()
        page.keyboard.press("Shift+ArrowRight")
        page.wait_for_timeout(250)
        save("held")
        page.keyboard.press("Escape")
    if name == "sheets":
        page.locator('[data-kind="dip.csv"] button').click()
        page.locator('[data-kind="dossier"] button').click()
        page.wait_for_selector('[data-kind="dip.csv"] a:not([hidden])')
        save("made")


def main() -> None:
    """Take them all."""
    place = Path(sys.argv[1])
    place.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as data, running(Path(data)) as desk, browsing() as browser:
        state = let_in(browser, desk)
        shown = prepare(browser, desk, state)
        for scheme in SCHEMES:
            for width in WIDTHS:
                take(browser, desk, state, shown, scheme, width, place)


def take(browser: Browser, desk: Desk, state: Any, shown: dict[str, str], scheme: str, width: int, place: Path) -> None:
    """All pages at one width in one scheme."""
    context = browser.new_context(storage_state=state, color_scheme=scheme, viewport={"width": width, "height": HEIGHT})
    page = context.new_page()
    for name, address in shown.items():
        page.goto(desk.base + address)
        if name == "bench-broken":
            page.wait_for_selector("#notice-broken")
        elif name != "missing":
            quiet(page)
            page.wait_for_load_state("networkidle")
        page.wait_for_timeout(300)

        def save(what: str, name: str = name) -> None:
            page.screenshot(path=place / f"{name}{what and '-'}{what}.{width}.{scheme}.png", full_page=True)

        save("")
        if width != 820:
            extras(page, name, save)
    locked = browser.new_context(color_scheme=scheme, viewport={"width": width, "height": HEIGHT})
    page = locked.new_page()
    page.goto(desk.base + "/")
    page.screenshot(path=place / f"locked.{width}.{scheme}.png", full_page=True)
    locked.close()
    context.close()


if __name__ == "__main__":
    main()
