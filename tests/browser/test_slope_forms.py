"""The pages for the slope as they are used there: out of Wi-Fi and back, closed and opened, two telephones, a laptop
that dies. Whatever was typed arrives once, in the order it was typed."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.request import urlopen

import pytest
from playwright.sync_api import expect

from beckwright.site import Keeper
from tests.site.writer import JPEG

pytestmark = pytest.mark.browser

PAGES = (
    *("/slope", "/slope/levels", "/slope/shots", "/slope/lips"),
    *("/slope/switch-on", "/slope/leak", "/slope/photographs", "/slope/diary"),
)
OUT_OF_REACH = (
    "ERR_INTERNET_DISCONNECTED",
    "ERR_CONNECTION_REFUSED",
    "ERR_FAILED",
    "ERR_CONNECTION_RESET",
    "ERR_EMPTY",
)
SERVER = """
import socket, sys, uvicorn
from pathlib import Path
from beckwright.web.app import make_app
listening = socket.create_server(("127.0.0.1", int(sys.argv[2])))
uvicorn.Server(uvicorn.Config(make_app(Path(sys.argv[1])), log_level="error", ws="none")).run(sockets=[listening])
"""

SMALL = """() => [...document.querySelectorAll("button, a, input, select, textarea, summary, fieldset label")]
    .filter((one) => one.offsetParent && !one.closest(".hidden") && one.type !== "checkbox")
    .map((one) => [one.textContent || one.id, one.getBoundingClientRect().height]).filter(([, tall]) => tall < 44)"""
UNNAMED = """() => [...document.querySelectorAll("input, select, textarea")]
    .filter((one) => !one.labels?.length && !one.ariaLabel).map((one) => one.id)"""
COUNT = """() => new Promise((done) => {
    const asked = indexedDB.open("beckwright slope", 1);
    asked.onsuccess = () => {
        const count = asked.result.transaction(["waiting"]).objectStore("waiting").count();
        count.onsuccess = () => done(count.result);
    };
})"""
PUT_ANOTHER = """() => new Promise((done) => {
    const asked = indexedDB.open("beckwright slope", 1);
    asked.onsuccess = () => {
        const turn = asked.result.transaction(["waiting"], "readwrite");
        const [seen, text] = ["2026-09-01T10:00:00Z", "x"];
        const body = { mark: "12345678-a", seen, text };
        turn.objectStore("waiting").add({ job: "withy_lane", path: "/api/diary", body, says: text, seen });
        turn.oncomplete = () => done(1);
    };
})"""


@pytest.fixture
def telephones(chromium: Any) -> Iterator[Any]:
    """As many telephones as asked for. Any fault of a script, and anything a page's rules block, fails the test.

    Each is a browser of its own: what a page keeps in its own store is what is looked at here.
    """
    contexts, faults, expected = [], list[str](), list(OUT_OF_REACH)

    def note(message: Any) -> None:
        if message.type == "error" and not any(word in message.text for word in expected):
            faults.append(message.text)

    def telephone(width: int = 390, *, refused: str = "") -> Any:
        expected.extend([refused] if refused else [])
        context = chromium.new_context(
            viewport={"width": width, "height": 844}, has_touch=True, reduced_motion="reduce"
        )
        context.on("weberror", lambda error: faults.append(str(error.error)))
        context.on("console", note)
        contexts.append(context)
        return context

    yield telephone
    for context in contexts:
        context.close()
    assert faults == []


def opened(telephone: Any, address: str, path: str) -> Any:
    """A page that hears: its foot says what waits, and what writes can be pressed."""
    page = telephone.new_page()
    page.goto(f"{address}{path}")
    expect(page.locator("#waits-says")).not_to_have_text("Looking for what waits.")
    if page.locator("#write").count():
        page.locator("#write:enabled").wait_for()
    return page


def asked(address: str, path: str) -> Any:
    with urlopen(f"{address}{path}") as answer:  # noqa: S310  # This machine.
        return json.load(answer)


def typed(page: Any, sight: str, point: str, reading: str, level: str | None = None) -> None:
    page.locator(f"input[name=sight][value={sight}]").check(force=True)
    page.fill("#point", point)
    page.fill("#typed", reading)
    if level is not None:
        page.fill("#level", level)
    page.locator("#write").tap()
    expect(page.locator("#typed")).to_have_value("")


def arrived(page: Any) -> None:
    """Nothing is left in the store of the telephone, and its foot says so."""
    for _ in range(200):
        if page.evaluate(COUNT) == 0:
            break
        page.wait_for_timeout(100)
    expect(page.locator("#waits-says")).to_have_text("Nothing waits: all of it is on the laptop.")


def rows(address: str, kind: str = "level%20row") -> list[str]:
    return [each["content"]["typed"] for each in asked(address, f"/api/readings?kind={kind}")["readings"]]


def test_a_book_is_reduced_after_each_row(telephones: Any, address: str) -> None:
    """The first rows of the programme's example 13-1: 149.830, 148.040 as printed (NPTEL, module 4)."""
    page = opened(telephones(), address, "/slope/levels")
    page.locator("#point").wait_for()
    for sight, point, reading, level in (
        ("back", "BM", "1.205", "150.485"),
        ("fore", "TP1", "1.860", ""),
        ("back", "TP1", "0.125", ""),
        ("fore", "TP2", "1.915", ""),
    ):
        typed(page, sight, point, reading, level)
    page.locator("#rows td", has_text="148.040").wait_for()
    assert page.locator("#rows td", has_text="149.830").count() == 2
    typed(page, "back", "TP2", "2.040", "")
    typed(page, "fore", "BM", "0.545", "")
    page.locator("#big.refused").wait_for()
    # 148.040 + 2.040 - 0.545 = 149.535, and 150.485 is known: 950 low; three set-ups, 5 sqrt 3 = 8.7.
    assert page.locator("#missed").inner_text() == "\u2212950"
    assert page.locator("#allowed").inner_text() == "8.7"
    page.locator("#file").tap()
    page.locator("#told", has_text="levels.csv").wait_for()


def test_typed_out_of_reach_it_waits_and_arrives_once_in_order(telephones: Any, address: str) -> None:
    telephone = telephones()
    page = opened(telephone, address, "/slope/levels")
    typed(page, "back", "BM", "1.000", "100")
    arrived(page)
    telephone.set_offline(True)
    for number in range(1, 6):
        typed(page, "intermediate", f"P{number}", f"1.{number}00")
    page.locator("#waits-says", has_text="5 wait on this phone").wait_for()
    assert page.locator("#waits li").count() == 5
    assert page.locator("#big.stale").count() == 1
    assert rows(address) == ["1.000"]
    telephone.set_offline(False)
    arrived(page)
    assert rows(address) == ["1.000", "1.100", "1.200", "1.300", "1.400", "1.500"]


def test_a_page_closed_out_of_reach_loses_nothing(telephones: Any, address: str) -> None:
    telephone = telephones()
    page = opened(telephone, address, "/slope/levels")
    telephone.set_offline(True)
    typed(page, "back", "BM", "1.000", "100")
    typed(page, "intermediate", "A", "1.100")
    page.fill("#point", "half ty")
    page.close()
    telephone.set_offline(False)
    # Any page for the slope sends what another has left.
    arrived(opened(telephone, address, "/slope/diary"))
    assert rows(address) == ["1.000", "1.100"]
    again = opened(telephone, address, "/slope/levels")
    assert again.locator("#point").input_value() == "half ty"


def test_what_the_laptop_took_and_the_telephone_did_not_hear_is_one(telephones: Any, address: str) -> None:
    page = opened(telephones(), address, "/slope/levels")
    unheard = []

    def deaf(route: Any) -> None:
        if len(unheard) < 3:
            unheard.append(route.fetch().status)
            route.abort("connectionreset")
        else:
            route.continue_()

    page.route("**/api/readings", deaf)
    typed(page, "back", "BM", "1.000", "100")
    typed(page, "fore", "A", "1.100")
    arrived(page)
    assert unheard == [200, 200, 200]
    assert rows(address) == ["1.000", "1.100"]


def test_two_telephones_out_of_reach_and_back(telephones: Any, address: str) -> None:
    both = [telephones(), telephones()]
    pages = [opened(telephone, address, "/slope/levels") for telephone in both]
    for telephone in both:
        telephone.set_offline(True)
    for number, page in enumerate(pages, 1):
        for row in range(4):
            typed(
                page, "back" if row == 0 else "intermediate", f"P{row}", f"{number}.{row}00", "100" if row == 0 else ""
            )
    for telephone in both:
        telephone.set_offline(False)
    for page in pages:
        arrived(page)
    told = rows(address)
    assert sorted(told) == [f"{number}.{row}00" for number in (1, 2) for row in range(4)]
    for number in "12":
        assert [each for each in told if each[0] == number] == [f"{number}.{row}00" for row in range(4)]
    books = asked(address, "/api/slope/levels")["books"]
    assert sorted(len(book["rows"]) for book in books) == [4, 4]


def test_a_laptop_killed_and_started_again_has_it_once(telephones: Any, folder: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    address = f"http://127.0.0.1:{port}"
    first = started(folder, port)
    page = opened(telephones(), address, "/slope/levels")
    typed(page, "back", "BM", "1.000", "100")
    arrived(page)
    os.kill(first.pid, signal.SIGKILL)
    first.wait()
    typed(page, "intermediate", "A", "1.100")
    typed(page, "intermediate", "B", "1.200")
    page.locator("#waits-says", has_text="2 wait on this phone").wait_for()
    second = started(folder, port)
    try:
        arrived(page)
        assert rows(address) == ["1.000", "1.100", "1.200"]
    finally:
        second.kill()
        second.wait()
    with Keeper(folder) as keeper:
        assert len(keeper.readings("level row")) == 3


def started(folder: Path, port: int) -> subprocess.Popen[bytes]:
    process = subprocess.Popen([sys.executable, "-c", SERVER, str(folder), str(port)])
    for _ in range(200):
        with socket.socket() as asking:
            if asking.connect_ex(("127.0.0.1", port)) == 0:
                return process
        time.sleep(0.1)
    process.kill()
    raise AssertionError(port)


def test_a_photograph_waits_with_its_bytes_and_place(telephones: Any, address: str, tmp_path: Path) -> None:
    telephone = telephones()
    page = opened(telephone, address, "/slope/photographs")
    page.locator("#near", has_text="Leave it empty").wait_for()
    page.locator("#after").tap()
    page.locator("#near", has_text="At peg 1.").wait_for()
    telephone.set_offline(True)
    page.fill("#note", "the oak")
    page.set_input_files("#pick", {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": JPEG})
    page.locator("#waits li", has_text="photograph at 0.00 m: the oak").wait_for()
    page.close()
    telephone.set_offline(False)
    arrived(opened(telephone, address, "/slope/photographs"))
    (told,) = asked(address, "/api/photographs")["photographs"]
    assert (told["chainage"], told["note"], told["form"]) == (0.0, "the oak", "image/jpeg")
    with urlopen(f"{address}/photographs/{told['digest']}") as answer:  # noqa: S310  # This machine.
        assert answer.read() == JPEG


def test_what_is_refused_is_set_aside_and_listed_and_the_line_goes_on(telephones: Any, address: str) -> None:
    page = opened(telephones(refused="422"), address, "/slope/photographs")
    page.set_input_files("#pick", {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": b"no photograph"})
    page.locator("#waits li", has_text="Not taken").wait_for()
    page.set_input_files("#pick", {"name": "b.jpg", "mimeType": "image/jpeg", "buffer": JPEG})
    page.locator("#photographs button").wait_for()
    assert "1 set aside" in page.locator("#waits-says").inner_text()
    page.reload()
    page.locator("#waits button", has_text="Throw away").tap()
    assert page.locator("#waits li").count() == 1
    page.locator("#waits button", has_text="Press again").tap()
    arrived(page)


def test_in_another_language_too_a_slip_of_the_thumb_throws_nothing_away(telephones: Any, address: str) -> None:
    telephone = telephones(refused="422")
    telephone.add_cookies([{"name": "beckwright_language", "value": "de", "url": address}])
    page = opened(telephone, address, "/slope/photographs")
    page.set_input_files("#pick", {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": b"no photograph"})
    page.locator("#waits button.white", has_text="Wegwerfen").tap()
    page.locator("#waits button", has_text="Zum Wegwerfen").wait_for()
    assert page.evaluate(COUNT) == 1
    page.locator("#waits button", has_text="Zum Wegwerfen").tap()
    expect(page.locator("#waits li")).to_have_count(0)


def test_rows_typed_for_another_job_are_not_given_to_this_one(telephones: Any, address: str) -> None:
    telephone = telephones()
    page = opened(telephone, address, "/slope/diary")
    page.evaluate(PUT_ANOTHER)
    page.reload()
    page.locator("#waits li", has_text="typed for the job withy_lane").wait_for()
    page.wait_for_timeout(500)
    assert asked(address, "/api/diary")["entries"] == []


def test_a_doubtful_row_is_asked_about_and_answered(telephones: Any, address: str) -> None:
    page = opened(telephones(), address, "/slope/levels")
    typed(page, "back", "BM", "1,205", "100")
    typed(page, "fore", "A", "14.2")
    page.locator("#asked li").nth(1).wait_for()
    page.locator("#asked button", has_text="It is right").tap()
    page.locator("#asked li", has_text="1,205").wait_for(state="detached")
    page.locator("#asked button", has_text="Write it anew").tap()
    assert page.locator("#typed").input_value() == "1.420"
    page.locator("#write").tap()
    page.locator("#rows td", has_text="99.785").wait_for()
    assert rows(address) == ["1,205", "14.2", "1.420"]


def test_a_shot_tells_at_once_how_far_off_and_what_to_do(telephones: Any, address: str) -> None:
    """Hand calculation: lip 1 is drawn at 101.150; 101.950 + 1.000 - 1.812 = 101.138, 12 mm low."""
    page = opened(telephones(), address, "/slope/shots")
    page.locator("#place option").nth(3).wait_for(state="attached")
    page.fill("#typed", "1.812")
    page.locator("#write").tap()
    page.locator("#told", has_text="hangs on a set-up").wait_for()
    page.fill("#mark-typed", "1.000")
    page.locator("#set-up button").tap()
    page.locator("#standing-says", has_text="102.950").wait_for()
    page.select_option("#place", "lip 1")
    page.fill("#typed", "1.812")
    page.locator("#write").tap()
    page.locator("#off-way", has_text="mm low").wait_for()
    assert page.locator("#off").inner_text() == "12"
    assert page.locator("#cure").inner_text() == "Raise it 12 mm."
    page.locator("#file").tap()
    page.locator("#told", has_text="as_built_2.csv").wait_for()


def test_a_lip_read_across_tells_which_end_to_shim(telephones: Any, address: str) -> None:
    page = opened(telephones(), address, "/slope/lips")
    page.locator("input[name=lip]").nth(2).check(force=True)
    page.fill("#left", "1.302")
    page.fill("#right", "1.297")
    page.locator("#write").tap()
    page.locator("#shim", has_text="Shim the left end up 5 mm.").wait_for()
    assert page.locator("#out").inner_text() == "5"
    assert page.locator("#shares tr").count() > 1


def test_a_level_typed_out_of_reach_is_in_the_leak_test_once_back(telephones: Any, address: str) -> None:
    telephone = telephones()
    page = opened(telephone, address, "/slope/leak")
    page.locator("input[name=pump][value=off]").wait_for(state="attached")
    telephone.set_offline(True)
    for clock, level in (("17:00", "400"), ("17:30", "399,6"), ("18:00", "399.9")):
        page.fill("#at", f"2026-09-02T{clock}")
        page.fill("#level", level)
        page.locator("#write").tap()
        expect(page.locator("#level")).to_have_value("")
    telephone.set_offline(False)
    arrived(page)
    page.locator("#again", has_text="Read again: 18:30").wait_for()
    assert page.locator("#chart circle").count() == 3
    kept = asked(address, "/api/readings?kind=leak%20test")["readings"]
    assert [each["content"]["level"] for each in kept] == ["400", "399,6", "399.9"]
    page.locator("#clock").tap()
    assert page.locator("#at").input_value()[:2] == "20"


def test_the_diary_is_added_to_and_given_as_one_page(telephones: Any, address: str) -> None:
    page = opened(telephones(), address, "/slope/diary")
    page.fill("#text", "Rain since seven. <b>No</b> digging.")
    page.locator("#write").tap()
    page.locator(".entry", has_text="<b>No</b> digging").wait_for()
    with page.expect_download() as loading:
        page.locator("a", has_text="A plain page to send").tap()
    saved = loading.value.path()
    assert "&lt;b&gt;No&lt;/b&gt; digging" in Path(saved).read_text(encoding="utf-8")


@pytest.mark.parametrize("width", [320, 390, 768, 1440])
@pytest.mark.parametrize("path", PAGES)
def test_every_page_fits_says_what_waits_and_can_be_pressed_with_a_thumb(
    telephones: Any, address: str, path: str, width: int
) -> None:
    page = opened(telephones(width), address, path)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate(SMALL) == []
    assert page.evaluate(UNNAMED) == []
    strip = page.locator("nav.pages a")
    assert [each.get_attribute("href") for each in strip.all()] == list(PAGES)
    assert page.locator("nav.pages [aria-current=page]").get_attribute("href") == path


RESTS = """() => new Promise((rests) => {
    let timer = 0;
    const seen = new MutationObserver(() => quiet());
    const quiet = () => {
        clearTimeout(timer);
        timer = setTimeout(() => { seen.disconnect(); rests(true); }, 700);
    };
    seen.observe(document.getElementById("rows"), { childList: true, subtree: true });
    quiet();
})"""
"""Until the table has not been drawn again for a while."""


def first_of(page: Any, path: str) -> list[Any]:
    """The first request to an address, held back; whoever asks next is answered."""
    held: list[Any] = []
    page.route(f"**{path}", lambda route: route.continue_() if held else held.append(route))
    return held


def test_a_row_written_before_the_laptop_has_answered_stays_in_its_book(telephones: Any, address: str) -> None:
    """The first answer comes late, as over a weak network: it knows nothing of the row."""
    page = telephones().new_page()
    answers, rows = (first_of(page, path) for path in ("/api/slope/levels", "/api/readings"))
    page.goto(f"{address}/slope/levels")
    page.locator("#write:enabled").wait_for()
    page.locator("#point").fill("BM")
    page.locator("#typed").fill("1.250")
    page.locator("#write").click()
    expect(page.locator("#point")).to_have_value("")
    with page.expect_response("**/api/slope/levels"):
        answers[0].continue_()
    page.evaluate(RESTS)
    rows[0].continue_()
    page.locator("#rows button").wait_for()
    assert "1.250" in page.locator("#rows").inner_text()
    assert page.locator("#book option").count() == 2


def test_everything_is_reached_with_keys(telephones: Any, address: str) -> None:
    page = opened(telephones(), address, "/slope/levels")
    page.locator("#point").focus()
    page.keyboard.press("Control+a")
    page.keyboard.type("BM")
    page.keyboard.press("Tab")
    page.keyboard.type("1.000")
    page.keyboard.press("Enter")
    # Written down, sent, and told again by the laptop: then the row stays what it is.
    page.locator("#rows button").wait_for()
    page.evaluate(RESTS)
    page.locator("#rows button").focus()
    page.keyboard.press("Enter")
    # The row was drawn again with what can be done with it; the keyboard is where it was.
    page.locator("#rows .presses").wait_for()
    assert page.evaluate("document.activeElement === document.querySelector('#rows button')")
    page.locator("#rows .presses button", has_text="Write it anew").focus()
    page.keyboard.press("Enter")
    page.locator("#anew").wait_for()
