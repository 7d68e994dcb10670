"""How fast the desk answers a hand, in a real browser: ``beckwright open`` in its own process, chromium headless.

Timed in the page itself: from a try being asked for to the frame in which its answer has been painted; frames of
another drag; slower answers after a hand lets go; the page from its first request to its eighth answer. The peer is a
bare request to the same server with its frame: what browser, loopback and screen cost before anything is worked out.
Needs chromium.
"""

import shutil
import socket
import subprocess
import sys
import tempfile
import time
from contextlib import closing
from pathlib import Path
from typing import Any

import numpy as np

ROOT = Path(__file__).parents[1]
CHROMIUM = Path("/usr/bin/chromium")
TARGETS = {"hazel_bank": 60.0, "fennymoor_park": 100.0}
TRIES = 150
MOVES_APART = 0.016
"""A mouse tells of itself some sixty times a second."""

WATCH = """() => {
  const asked = window.fetch.bind(window);
  window.tries = []; window.bare = [];
  const painted = (since, into) => requestAnimationFrame(() => setTimeout(() => into.push(performance.now() - since)));
  window.fetch = async (address, more) => {
    const since = performance.now();
    const answer = await asked(address, more);
    if (!String(address).includes('/api/try')) return answer;
    const read = answer.json.bind(answer);
    answer.json = async () => {
      const told = await read();
      painted(since, window.tries);
      return told;
    };
    return answer;
  };
  window.bareOne = async () => {
    const since = performance.now();
    await (await asked('/api/stands')).text();
    await new Promise(done => requestAnimationFrame(() => setTimeout(done)));
    window.bare.push(performance.now() - since);
  };
}"""

FRAMES = """() => {
  window.frames = [];
  let last = performance.now();
  const frame = now => { window.frames.push(now - last); last = now; requestAnimationFrame(frame); };
  requestAnimationFrame(frame);
}"""
"""Counted in a drag of its own: who counts frames has the browser draw all of them."""

LETTING_GO = 6
SLOWER = """() => {
  const told = document.getElementById('later');
  window.works = []; window.films = []; window.letGo = null;
  addEventListener('pointerup', () => { window.letGo = performance.now(); }, true);
  const awaited = { cost: false, films: false }, came = { cost: window.works, films: window.films };
  new MutationObserver(() => {
    const words = told.textContent, since = performance.now() - window.letGo;
    for (const what of ['cost', 'films']) {
      if (awaited[what] && !words.includes(what)) came[what].push(since);
      awaited[what] = words.includes(what);
    }
  }).observe(told, { childList: true, characterData: true, subtree: true });
}"""
"""Works and films after a hand lets go: what stands beside *More answers* tells which are still being worked out."""

READY = """
  const seen = new MutationObserver(() => {
    if (document.querySelectorAll('#eight tr').length >= 8) { window.ready = performance.now(); seen.disconnect(); }
  });
  seen.observe(document, { childList: true, subtree: true });
"""


def main() -> None:
    """Print the milliseconds of a page, of a try and of a frame for both jobs, and of the bare peer."""
    if not CHROMIUM.exists():
        print("chromium is not installed: nothing is measured")
        return
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox"])
        for name, target in TARGETS.items():
            with tempfile.TemporaryDirectory() as folder:
                job = Path(shutil.copytree(ROOT / "examples" / name, Path(folder) / name))
                measured(browser, job, target)
        browser.close()


def measured(browser: Any, job: Path, target: float) -> None:
    """Serve one job, drag its third point in small circles, and print what the page saw."""
    with closing(socket.create_server(("127.0.0.1", 0))) as free:
        port = free.getsockname()[1]
    words = [sys.executable, "-m", "beckwright", "open", str(job), "--port", str(port), "--no-browser"]
    begun = time.monotonic()
    server = subprocess.Popen(words, stdout=subprocess.PIPE, text=True)
    try:
        wait_for(server)
        opened = time.monotonic() - begun
        page = browser.new_page(viewport={"width": 1440, "height": 900})
        page.add_init_script(READY)
        readies = []
        for _ in range(5):
            page.goto(f"http://127.0.0.1:{port}/")
            page.wait_for_function("() => window.ready", timeout=60_000)
            readies.append(page.evaluate("window.ready"))
        row(f"{job.name}, page ready, later visits", readies[1:], "target 500 ms")
        print(f"  {'from the command until it lies open':34s} {1000 * opened:6.0f} ms")
        print(f"  {'first visit':34s} {readies[0]:6.0f} ms                                          target 500 ms")
        page.evaluate(WATCH)
        for _ in range(20):
            page.evaluate("window.bareOne()")
        drag(page, f"window.tries.length >= {TRIES}")
        tries, bare = page.evaluate("window.tries"), page.evaluate("window.bare")
        row(
            "  a try, asked to painted", tries, f"target {target:g} ms; {np.median(tries) / np.median(bare):.1f} x bare"
        )
        row("  a bare request, painted", bare)
        page.evaluate(FRAMES)
        drag(page, f"window.frames.length >= {2 * TRIES}")
        frames = page.evaluate("window.frames")
        row("  a frame while dragging", frames, f"{np.mean(np.array(frames) < 20.0):.0%} within 20 ms; target 16.7 ms")
        let_go(page)
        row("  letting go until cost, digging, lining", page.evaluate("window.works"), "target 500 ms")
        row("  letting go until the films", page.evaluate("window.films"), "target 500 ms")
        page.close()
    finally:
        server.terminate()
        server.wait()


def drag(page: Any, enough: str) -> None:
    """Drag until that is true of the page, and put back."""
    box = page.locator("#plan .peg").nth(2).bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for move in range(10_000):
        page.mouse.move(x + 12 * np.sin(move / 9), y + 12 * np.sin(move / 7))
        time.sleep(MOVES_APART / 2)
        if move % 50 == 49 and page.evaluate(enough):
            break
    page.keyboard.press("Escape")
    page.mouse.up()


def let_go(page: Any) -> None:
    """Drag a point a little and let it go, and wait until everything is told; again and again."""
    page.wait_for_function("() => document.getElementById('later').textContent === ''", timeout=120_000)
    page.evaluate(SLOWER)
    for turn in range(LETTING_GO):
        box = page.locator("#plan .peg").nth(2).bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        for step in range(10):
            page.mouse.move(x + step * (-1) ** turn, y + step)
            time.sleep(MOVES_APART)
        page.mouse.up()
        page.wait_for_function(f"() => window.films.length > {turn} && window.works.length > {turn}", timeout=120_000)


def row(name: str, times: list[float], more: str = "") -> None:
    """Print middle and 95th percentile."""
    middle, late = np.percentile(times, (50, 95))
    print(f"{name:36s} {middle:6.1f} ms, 95 % within {late:6.1f} ms, {len(times)} times  {more}")


def wait_for(server: "subprocess.Popen[str]") -> None:
    """Until the program says that the job lies open."""
    for line in server.stdout or ():
        if "lies open" in line:
            return
    raise EOFError


if __name__ == "__main__":
    main()
