"""The kit: a filter is added by what is printed on it, counted, and looked at."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Hand
from tests.browser.device import Kind
from tests.browser.laptop import Job


@pytest.mark.parametrize("kind", ["phone", "desktop"])
def test_a_filter_is_added_counted_and_looked_at(job: Job, hand: Hand, kind: Kind) -> None:
    """Kelvin in, kelvin out, and stops; then two sheets more; then how skin looks through it."""
    device = hand(job.laptop, kind)
    page = device.page
    device.go(job.path)
    device.tap(page.get_by_role("link", name="Kit", exact=True))
    device.tap(page.get_by_text("Add a filter", exact=True))
    device.tap(page.get_by_text("By what is printed on it: kelvin and stops"))
    form = page.locator("form", has=page.get_by_label("Turns this many kelvin"))
    form.get_by_label("What it is called").fill("old half CTB")
    form.get_by_label("Turns this many kelvin").fill("3200")
    form.get_by_label("Into this many").fill("4070")
    form.get_by_label("And takes this many stops").fill("0.95")
    expect(page.locator("#digits")).to_contain_text(
        "4065 to 4075 K; 0.95 stop for 0.945 to 0.955 stop"
    )
    form.get_by_label("Width").fill("530 mm")
    form.get_by_label("Length").fill("1220 mm")
    form.get_by_label("How many").fill("2")
    device.tap(form.get_by_role("button", name="Add it"))

    expect(page.get_by_role("heading", level=1)).to_have_text("old half CTB")
    stock = page.locator("#stock")
    expect(stock).to_contain_text("2 sheets of 530 × 1220 mm")
    with device.at_most(taps=1):
        device.tap(stock.get_by_role("button", name="One more"))
        expect(stock.locator("b").first).to_have_text("3")

    # Shift between two Kelvin: 1e6/4070 - 1e6/3200 = -66.8 mired, by hand.
    numbers = page.get_by_label("Numbers")
    expect(numbers).to_contain_text("67 mired cooler")
    expect(numbers).to_contain_text("1 stop")
    pictures = page.get_by_label("Pictures")
    expect(pictures.get_by_role("img")).to_have_count(4)
    expect(pictures).to_contain_text("Computed, not a photograph")
    pictures.get_by_label("One balance").fill("4300K")
    device.tap(pictures.get_by_role("button", name="Look"))
    expect(pictures.get_by_role("heading", level=3).first).to_have_text("Camera at 4300K")
    expect(page.get_by_label("Spectrum").locator("svg").first).to_be_visible()

    device.tap(page.get_by_role("link", name="To all of the van"))
    row = page.locator("[data-row]", has_text="old half CTB")
    with device.at_most(taps=1):
        device.tap(row.get_by_role("button", name="more"))
        expect(row.locator(".count b")).to_have_text("4")
