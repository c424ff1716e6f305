"""The desk under load: `python benchmarks/desk.py [--seconds 20]`.

First 200 edits in a real browser, each timed from its input event to the new drawing and loads in the page (budget:
p95 of 120 ms on two cores). Then the same looks over HTTP alone. Then 20 clients at once on one SQLite database, each
at a build of its own: as people work (a pause between any two edits), and with no pause at all.
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import random
import statistics
import sys
import tempfile
import threading
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

sys.path[0] = str(Path(__file__).parents[1] / "tests")  # not the folder of this script, which would be the `desk` below

from playwright.sync_api import Page  # noqa: E402  # it needs the path set above

from desk.browser.running import NO_BROWSER, Desk, browsing, chromium, let_in, quiet, running  # noqa: E402

EDITS = 200
BUDGET = 120  # [ms]
CLIENTS = 20
WATCH = """() => {
  const side = document.getElementById("side"), loads = document.getElementById("loads-told");
  const now = window.deskWatch = { arm() {
    const seen = new Set(); let start = null;
    const began = (event) => { start ??= event.timeStamp; };
    for (const name of ["keydown", "input"]) document.addEventListener(name, began, { capture: true });
    now.done = new Promise((done) => {
      const finish = (what) => { seen.add(what); if (start !== null && seen.size === 2) {
        const took = performance.now() - start; eyes.forEach((one) => one.disconnect());
        for (const name of ["keydown", "input"]) document.removeEventListener(name, began, { capture: true });
        done(took); } };
      const eyes = [new MutationObserver(() => { if (start !== null) finish("side"); }),
        new MutationObserver(() => { if (start !== null) finish("loads"); })];
      eyes[0].observe(side, { childList: true }); eyes[1].observe(loads, { childList: true });
    });
  } };
}"""


def told(what: str, times: list[float]) -> float:
    """Print a row of times [ms]; gives the 95th percentile."""
    times = sorted(times)
    p95 = times[int(0.95 * (len(times) - 1))]
    print(f"{what:34} {len(times):6} {statistics.median(times):8.1f} {p95:8.1f} {times[-1]:8.1f}", flush=True)
    return p95


def load() -> str:
    return "load average " + " ".join(f"{one:.1f}" for one in os.getloadavg()) + f" on {os.cpu_count()} cores"


# In a browser


def acts(page: Page) -> dict[str, Callable[[int], None]]:
    """Edits by keys, each a small step that can be taken back."""

    def key(hand: str) -> Callable[[int], None]:
        return lambda i: page.locator(f"[data-hand={hand}]").press("ArrowRight" if i // 8 % 2 == 0 else "ArrowLeft")

    return {
        "tank": key("tank"),
        "end of the tank": key("rear"),
        "baffle": key("baffle-0"),
        "fitting": key("item-0"),
        "fill": lambda i: page.locator("#fill").press("ArrowLeft" if i // 25 % 2 == 0 else "ArrowRight"),
    }


def in_browser(page: Page) -> None:
    """All edits; every fortieth is another kind, and what is held is written in between."""
    chance = random.Random(7)  # noqa: S311  # no secret
    page.evaluate(WATCH)
    taken: dict[str, list[float]] = defaultdict(list)
    for name, act in acts(page).items():
        for i in range(EDITS // 5):
            page.evaluate("() => window.deskWatch.arm()")
            act(i)
            taken[name].append(page.evaluate("() => window.deskWatch.done"))
            page.wait_for_timeout(chance.choice([0, 0, 30, 300]))
        if name != "fill":
            page.keyboard.press("Enter")
        page.wait_for_timeout(1500)
    for name, times in taken.items():
        told(f"browser, {name}", times)
    p95 = told("browser, all edits", [one for times in taken.values() for one in times])
    print(f"budget of {BUDGET} ms at the 95th percentile: {'kept' if p95 <= BUDGET else 'NOT KEPT'}", flush=True)


# Over HTTP


class Client:
    """One person's connection."""

    def __init__(self, desk: Desk, state: Any) -> None:
        self.line = http.client.HTTPConnection(urlsplit(desk.base).netloc, timeout=60)
        kept = {one["name"]: one["value"] for one in state["cookies"]}
        self.head = {
            "Cookie": "; ".join(f"{name}={value}" for name, value in kept.items()),
            "X-CSRFToken": kept.get("csrftoken", ""),
            "Content-Type": "application/json",
        }

    def ask(self, method: str, address: str, body: Any = None) -> Any:
        self.line.request(method, address, None if body is None else json.dumps(body), self.head)
        answer = self.line.getresponse()
        content = answer.read()
        if answer.status >= 400:
            raise RuntimeError(f"{method} {address}: {answer.status} {content[:300]!r}")
        return json.loads(content)


def looking(place: float, parts: list[str]) -> dict[str, Any]:
    state = {"fill": 1, "grade": 0, "braking": 0, "slope": 0, "crew": True}
    return {"changes": [{"path": ["tank", "middle"], "value": f"{place:.3f} m"}], "state": state, "parts": parts}


@contextmanager
def timed(times: list[float]) -> Iterator[None]:
    start = time.perf_counter()
    yield
    times.append(1e3 * (time.perf_counter() - start))


def over_http(client: Client) -> None:
    slug = client.ask("POST", "/api/builds", {"from": "demo", "demo": "quarry-carrier"})["slug"]
    for parts in (["side", "loads"], ["side", "rear", "loads"], ["findings"], ["window"], ["charts"]):
        times: list[float] = []
        for i in range(EDITS if "loads" in parts else EDITS // 10):
            with timed(times):
                client.ask("POST", f"/api/builds/{slug}/look", looking(3.6 + 0.001 * i, parts))
        told(f"HTTP, look at {', '.join(parts)}", times)


def work(
    client: Client, until: float, pause: float, times: dict[str, list[float]], wrong: list[str], seed: int
) -> None:
    """One person: drags, writes on release, reads, now and then saves a revision."""
    chance = random.Random(seed)  # noqa: S311  # no secret
    try:
        slug = client.ask("POST", "/api/builds", {"from": "demo", "demo": "quarry-carrier"})["slug"]
        api, base, mark = f"/api/builds/{slug}", 1, {"page": f"person {seed}"}
        while time.monotonic() < until:
            place = chance.uniform(3.5, 3.9)
            for i in range(5):
                with timed(times["look"]):
                    client.ask("POST", f"{api}/look", looking(place + 0.01 * i, ["side", "loads"]) | mark)
                time.sleep(chance.uniform(0, 2 * pause))
            version = client.ask("GET", f"{api}/draft")["version"]
            body = {"version": version, "changes": looking(place + 0.05, [])["changes"]}
            with timed(times["write the draft"]):
                version = client.ask("POST", f"{api}/draft/set", body)["version"]
            with timed(times["findings"]):
                client.ask("POST", f"{api}/look", looking(place + 0.05, ["findings"]) | {"changes": []} | mark)
            if chance.random() < 0.2:
                with timed(times["save a revision"]):
                    saved = client.ask("POST", f"{api}/revisions", {"version": version, "note": "", "base": base})
                base = saved["number"]
            time.sleep(chance.uniform(0, 2 * pause))
    except (OSError, RuntimeError, http.client.HTTPException, KeyError) as error:
        wrong.append(f"{type(error).__name__}: {error}")


def together(desk: Desk, state: Any, seconds: float, pause: float) -> None:
    times: dict[str, list[float]] = defaultdict(list)
    wrong: list[str] = []
    until = time.monotonic() + seconds
    people = [
        threading.Thread(target=work, args=(Client(desk, state), until, pause, times, wrong, i)) for i in range(CLIENTS)
    ]
    for one in people:
        one.start()
    for one in people:
        one.join()
    for name, taken in times.items():
        told(f"{CLIENTS} at once, {name}", taken)
    wrong += logged(desk)
    rate = sum(map(len, times.values())) / seconds
    print(
        f"{CLIENTS} clients, {seconds:g} s, pause {pause:g} s: {rate:.1f} requests a second, {len(wrong)} errors "
        f"{wrong[:3]}; {load()}",
        flush=True,
    )


def logged(desk: Desk) -> list[str]:
    """What the desk noted down as wrong."""
    log = desk.output.parent / "data" / "desk.log"
    lines = log.read_text(encoding="utf-8").splitlines() if log.is_file() else []
    return [line for line in lines if " ERROR " in line or " CRITICAL " in line]


def main() -> None:
    wishes = argparse.ArgumentParser()
    wishes.add_argument("--seconds", type=float, default=20)
    seconds = wishes.parse_args().seconds
    if chromium() is None:
        sys.exit(NO_BROWSER)
    with tempfile.TemporaryDirectory() as place, running(Path(place)) as desk:
        print(load())
        print(f"{'':34} {'count':>6} {'median':>8} {'p95':>8} {'worst':>8}  ms")
        with browsing() as browser:
            state = let_in(browser, desk)
            page = browser.new_context(storage_state=state, viewport={"width": 1440, "height": 900}).new_page()
            page.goto(desk.base + "/b/quarry-carrier/")
            quiet(page)
            in_browser(page)
        print(load())
        over_http(Client(desk, state))
        for pause in (0.5, 0.0):
            together(desk, state, seconds, pause)


if __name__ == "__main__":
    main()
