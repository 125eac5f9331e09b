"""The plan page in a real browser: how many taps things take, what stays while it changes, what
waits while the laptop is away."""

from __future__ import annotations

import shutil
import socket
import threading
import time
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

sync_api = pytest.importorskip("playwright.sync_api")
uvicorn = pytest.importorskip("uvicorn")

from evencast.store.library.library import Library  # noqa: E402
from evencast.tables import demo_documents  # noqa: E402
from evencast.web.app import create_app  # noqa: E402
from evencast.web.desk import Desk  # noqa: E402

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no chromium on the PATH")
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True}
KEY = "key Fresnel"


class Served:
    """The demo's plan behind a real server."""

    def __init__(self, library: Library) -> None:
        self.library = library
        self.plan = library.documents(kind="plan")[0]
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        app = create_app(Desk(library), hosts={f"127.0.0.1:{self.port}"})
        config = uvicorn.Config(
            app, port=self.port, log_level="error", ws="none", timeout_graceful_shutdown=1
        )
        self.server = uvicorn.Server(config)
        self.thread = threading.Thread(target=self.server.run, daemon=True)
        self.thread.start()
        while not self.server.started:
            time.sleep(0.05)

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}/plan/{self.plan.id}"

    @property
    def toml(self) -> dict[str, Any]:
        return tomllib.loads(self.library.read(self.plan).content.decode())

    @property
    def names(self) -> list[str]:
        return [each["name"] for each in self.toml["light"]]

    def until(self, done: Any, seconds: float = 15.0) -> None:
        """Waits until the plan says something."""
        deadline = time.monotonic() + seconds
        while not done(self.toml):
            assert time.monotonic() < deadline, self.toml
            time.sleep(0.05)


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    with Library.open(tmp_path / "library") as library:
        bundle = library.new_bundle("bindery")
        files = {name: text.encode() for name, text in demo_documents().items()}
        library.import_files(bundle, files, by="me")
        found = Served(library)
        yield found
        found.server.should_exit = True
        found.thread.join(5)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with sync_api.sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield found
        found.close()


class Hand:
    """A person at a device; every tap is counted."""

    def __init__(self, browser: Any, served: Served, **device: Any) -> None:
        self.context = browser.new_context(**device)
        self.page = self.context.new_page()
        self.page.set_default_timeout(15_000)
        self.errors: list[str] = []
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.page.goto(served.address)
        self.page.wait_for_load_state("load")
        self.taps = 0

    def tap(self, what: Any) -> None:
        self.taps += 1
        what.click()

    def until(self, script: str) -> None:
        """Waits until the page says something; the page's own policy forbids it to be asked by a
        script that it evaluates itself."""
        deadline = time.monotonic() + 15
        while not self.page.evaluate(script):
            assert time.monotonic() < deadline, script
            time.sleep(0.05)

    def label(self, text: str) -> Any:
        return self.page.get_by_label(text, exact=True)

    def button(self, text: str) -> Any:
        return self.page.get_by_role("button", name=text, exact=True)


@pytest.fixture
def phone(browser: Any, served: Served) -> Iterator[Hand]:
    hand = Hand(browser, served, **PHONE)
    yield hand
    hand.context.close()
    assert hand.errors == []


def test_light_in_four_taps_and_the_next_one_in_one(phone: Hand, served: Served) -> None:
    for what in ("Tungsten", "650 W", "3 m"):
        phone.tap(phone.label(what))
    phone.tap(phone.button("Add the light"))
    served.until(lambda toml: len(toml["light"]) == 9)
    assert phone.taps == 4
    light = served.toml["light"][-1]
    assert (light["watts"], light["level"]["distance_m"]) == (650, 3)
    phone.page.wait_for_selector("#undo")
    assert phone.label("650 W").is_checked()
    assert phone.label("3 m").is_checked()
    phone.tap(phone.button("Add the light"))
    served.until(lambda toml: len(toml["light"]) == 10)
    assert phone.taps == 5
    assert phone.page.evaluate("document.documentElement.scrollWidth") == 390


def test_one_typed_line_and_enter(phone: Hand, served: Served) -> None:
    line = phone.page.locator("#line")
    phone.tap(line)
    line.type("tungsten 650, 3 m, flood")
    phone.page.wait_for_selector("#understood li")
    assert "flood" in phone.page.inner_text("#understood")
    line.press("Enter")
    served.until(lambda toml: len(toml["light"]) == 9)
    assert phone.taps == 1
    phone.page.wait_for_selector("#undo")
    assert line.input_value() == ""
    phone.tap(phone.page.locator("#undo"))
    served.until(lambda toml: len(toml["light"]) == 8)


def test_six_lights_by_taps_well_within_three_minutes(phone: Hand, served: Served) -> None:
    lights = [
        ("Tungsten", "650 W", "3 m"),
        ("HMI", "1200 W", "6 m"),
        ("LED panel", "5600 K", "2 m"),
    ]
    begin = time.monotonic()
    for count, taps in enumerate(lights * 2, start=9):
        for what in taps:
            phone.tap(phone.page.locator("#taps label:visible", has_text=what).first)
        phone.tap(phone.button("Add the light"))
        served.until(lambda toml, count=count: len(toml["light"]) == count)
        phone.page.wait_for_selector(f'#plan[data-revision="{count - 7}"]')
    assert phone.taps == 24
    assert time.monotonic() - begin < 60.0  # of 180 s, what is left is for the hand


def test_read_again_in_two_taps_and_the_number(phone: Hand, served: Served) -> None:
    phone.tap(phone.page.get_by_role("link", name=f"Read {KEY}"))
    phone.until("document.activeElement.name === 'cct_k'")
    phone.page.keyboard.type("3150")
    phone.tap(phone.button("Save the reading"))
    phone.page.wait_for_selector(".trim")
    assert phone.taps == 2
    read = served.toml["setup"][0]["light"][0]["read"]
    assert read["cct_k"] == 3150
    assert read["time"].startswith("20")
    assert "mired" in phone.page.inner_text(".trim")


def test_dragging_keeps_focus_open_details_and_what_is_typed(phone: Hand, served: Served) -> None:
    page = phone.page
    page.locator("#line").type("HMI 1200")
    page.get_by_role("link", name=f"Edit {KEY}").click()
    field = page.locator(".tray [name='name']")
    field.fill("the other key")
    page.evaluate("document.getElementById('chart-table').open = true")
    slider = page.locator("#mired")
    slider.focus()
    before = served.library.read(served.plan).number
    for _ in range(20):
        page.keyboard.press("ArrowLeft")
    phone.until("new URL(location).searchParams.get('balance')")
    phone.until("document.getElementById('chart-table').open")
    assert page.evaluate("document.activeElement.id") == "mired"
    assert field.input_value() == "the other key"
    assert page.locator("#line").input_value() == "HMI 1200"
    assert served.library.read(served.plan).number == before
    page.locator("#k-up").click()
    phone.until("document.activeElement.id === 'k-up'")


def test_what_another_saves_appears_and_takes_nothing_away(
    browser: Any, phone: Hand, served: Served
) -> None:
    phone.page.locator("#line").type("tungsten 650")
    other = Hand(browser, served)
    other.page.locator("#line").fill("candle 1900K practical")
    other.page.keyboard.press("Enter")
    phone.page.wait_for_selector("h3:has-text('candle')", timeout=5_000)
    assert phone.page.locator("#line").input_value() == "tungsten 650"
    other.context.close()


def test_two_people_at_one_light_are_shown_both(browser: Any, phone: Hand, served: Served) -> None:
    other = Hand(browser, served)
    for hand, lux in ((phone, "50"), (other, "44")):
        hand.page.get_by_role("link", name="Edit bench lamp").click()
        hand.until("document.activeElement.closest('.tray') !== null")  # it is ready to be typed in
        hand.page.locator("[name='level.lux']").fill(lux)
    other.button("Save").click()
    served.until(lambda toml: toml["light"][5]["level"]["lux"] == 44)
    phone.page.wait_for_selector('#plan[data-revision="2"]')
    phone.button("Save").click()
    phone.page.wait_for_selector(".clash")
    told = phone.page.inner_text(".clash")
    assert "45 lx -> 44 lx" in told
    assert "45 lx -> 50 lx" in told
    phone.button("Keep mine").click()
    served.until(lambda toml: toml["light"][5]["level"]["lux"] == 50)
    other.context.close()


def test_what_is_sent_while_the_laptop_is_away_waits_and_is_sent(
    phone: Hand, served: Served
) -> None:
    page = phone.page
    phone.context.set_offline(True)
    page.locator("#line").fill("tungsten 650 3 m")
    page.keyboard.press("Enter")
    phone.until("document.getElementById('waiting').textContent.includes('One change')")
    page.locator("#line").fill("candle 1900K practical")
    page.keyboard.press("Enter")
    phone.until("document.getElementById('waiting').textContent.includes('2 changes')")
    assert page.locator("#away").is_visible()
    assert len(served.names) == 8
    phone.context.set_offline(False)
    served.until(lambda toml: len(toml["light"]) == 10, seconds=30)
    page.wait_for_selector("h3:has-text('candle')")
    assert page.evaluate("localStorage.getItem('waiting')") == "[]"


def test_everything_by_keyboard_alone(phone: Hand, served: Served) -> None:
    page = phone.page
    page.locator(f"[aria-label='Read {KEY}']").focus()
    page.keyboard.press("Enter")
    phone.until("document.activeElement.name === 'cct_k'")
    page.keyboard.type("3200")
    page.keyboard.press("Enter")
    served.until(lambda toml: "setup" in toml)
    page.wait_for_selector(".trim")


def test_without_script_a_light_is_added(browser: Any, served: Served) -> None:
    hand = Hand(browser, served, java_script_enabled=False)
    hand.page.locator("#line").fill("tungsten 650 3 m")
    hand.page.keyboard.press("Enter")
    hand.page.wait_for_selector("#undo")
    assert served.names[-1] == "tungsten 650"
    hand.context.close()
