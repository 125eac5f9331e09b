from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect, sync_playwright

from tests.browser.device import WAIT_MS, Device, Kind, Scheme, device
from tests.browser.laptop import Job, Laptop
from tests.browser.program import chromium

Hand = Callable[..., Device]


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """One browser for all of these tests, and for no other: its event loop runs in this thread."""
    expect.set_options(timeout=WAIT_MS)
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=chromium())
        yield opened
        opened.close()


@pytest.fixture(scope="package")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Laptop]:
    """A laptop with the demo's job, for tests that change nothing in it."""
    found = Laptop(tmp_path_factory.mktemp("laptop"))
    found.fill_with_the_demo()
    found.start()
    yield found
    found.stop()


@pytest.fixture(scope="package")
def busy(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Laptop]:
    """A laptop for tests that each work on a job of their own."""
    found = Laptop(tmp_path_factory.mktemp("busy"))
    found.start()
    yield found
    found.stop()


@pytest.fixture
def job(busy: Laptop) -> Job:
    """The demo's job, fresh."""
    return busy.new_job()


@pytest.fixture
def keep(request: pytest.FixtureRequest) -> bool:
    """Whether pictures of pages are kept, to be looked at."""
    return bool(request.config.getoption("--keep"))


@pytest.fixture
def laptop(tmp_path: Path) -> Iterator[Laptop]:
    """A laptop with an empty library, not yet started."""
    found = Laptop(tmp_path / "laptop")
    yield found
    found.stop()


@pytest.fixture
def hand(browser: Browser) -> Iterator[Hand]:
    """Hands out devices; at the end nothing may have gone wrong on any."""
    given: list[Device] = []

    def give(address: str, kind: Kind = "desktop", *, scheme: Scheme = "dark") -> Device:
        given.append(device(browser, address, kind, scheme=scheme))
        return given[-1]

    yield give
    wrongs = [wrong for each in given for wrong in each.wrongs]
    for each in given:
        each.page.context.close()
    assert wrongs == []
