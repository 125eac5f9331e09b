"""What somebody else saves is on every page that is looked at, however it falls."""

from __future__ import annotations

import time

import pytest
from playwright.sync_api import Route, expect

from tests.browser.conftest import Hand
from tests.browser.laptop import Laptop

SEEN = """state => {
  Object.defineProperty(document, "visibilityState", { value: state, configurable: true });
  document.dispatchEvent(new Event("visibilitychange"));
}"""


def test_a_page_that_nobody_sees_does_not_listen_and_is_right_when_seen(
    busy: Laptop, hand: Hand
) -> None:
    """As in a pocket, or behind the seventh page of one browser."""
    job = busy.new_job()
    device = hand(busy.address, "phone")
    page = device.page
    device.go(job.path)
    shown = page.locator("#plan")
    page.evaluate(SEEN, "hidden")
    number = job.change_elsewhere()
    page.wait_for_timeout(1500)
    expect(shown).to_have_attribute("data-revision", str(number - 1))
    page.evaluate(SEEN, "visible")
    expect(shown).to_have_attribute("data-revision", str(number))
    number = job.change_elsewhere()
    expect(shown).to_have_attribute("data-revision", str(number))


@pytest.mark.parametrize("part", ["plan", "kit"])
def test_what_is_saved_while_the_page_asks_for_the_last_is_seen_too(
    busy: Laptop, hand: Hand, part: str
) -> None:
    """Twice in a breath: the answer to the first was made before the second, which is told while
    that answer is on its way."""
    job = busy.new_job()
    device = hand(busy.address, "phone")
    page = device.page
    device.go(job.path)
    kit, name = 0, ""
    if part == "kit":
        name = device.open_kit().get_by_role("heading").inner_text()
        kit = int(page.locator("#filters").get_attribute("data-document") or 0)
    shown = page.locator("[data-document]")
    saved: list[int] = []

    def save() -> None:
        if part == "plan":
            saved.append(job.change_elsewhere())
        else:
            saved.append(job.count_elsewhere(kit, name))

    def late(route: Route) -> None:
        answer = route.fetch()
        if len(saved) == 1:
            save()
            time.sleep(1.0)
        route.fulfill(response=answer)

    page.route(f"**{shown.get_attribute('hx-get')}*", late)
    save()
    expect(shown).to_have_attribute("data-revision", str(saved[0] + 1))
    assert len(saved) == 2
