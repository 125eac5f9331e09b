"""From an empty library to cards in the crew's hands, on one device alone: the demo's job, every
lamp by one typed line."""

from __future__ import annotations

import time

import pypdfium2 as pdfium
import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Hand
from tests.browser.device import Device, Kind
from tests.browser.laptop import Laptop

LINES = {
    "key Fresnel": '"key Fresnel" tungsten 650 key 1400 lux at 3 m flood',
    "north window": "north window D65 fill 3 panes 1.1 x 1.5 m 240 lux -10 mired a stop under key",
    "ceiling tubes": '"ceiling tubes" FL2 tubes x4 1200 mm background 90 lux can switch off',
    "stair tubes": '"stair tubes" FL5 tubes x2 60 cm background 30 lux',
    "bench lamp": '"bench lamp" bulb LED 2700K practical 45 lux',
    "edge panel": '"edge panel" panel 2700-6500 background 500 lux 2 m a stop under key dimmable',
}

SIX_LIGHTS_S = 180
"""As the job was set: six lights within three minutes."""

KEYS_PER_S = 3.0
"""How fast a thumb types. Common practice, no source."""


def begin(device: Device, name: str) -> None:
    """A new plan, from the first page."""
    device.go("/")
    device.page.get_by_label("What the job is called").fill(name)
    device.tap(device.page.get_by_role("button", name="Begin the plan"))
    expect(device.page.get_by_role("heading", level=1)).to_have_text(name)


def add_by_line(device: Device, line: str, name: str) -> None:
    """One light, typed; what was understood is shown before it is sent."""
    field = device.page.locator("#line")
    if device.page.evaluate("document.activeElement.id") != "line":
        device.tap(field)
    device.page.keyboard.type(line, delay=5)
    expect(device.page.locator("#understood")).to_contain_text(name)
    device.page.keyboard.press("Enter")
    expect(device.page.locator("#lights")).to_contain_text(name)
    expect(field).to_have_value("")


@pytest.mark.parametrize("kind", ["phone", "desktop"])
def test_a_job_is_planned_solved_and_handed_out(laptop: Laptop, hand: Hand, kind: Kind) -> None:
    """The laptop stands in the corner; everything is done on this device."""
    laptop.start()
    device = hand(laptop.address, kind)
    begin(device, "Hand bindery, late afternoon")
    started = time.monotonic()
    for name, line in LINES.items():
        with device.at_most(taps=1):
            add_by_line(device, line, name)
    took_s = time.monotonic() - started + sum(map(len, LINES.values())) / KEYS_PER_S
    print(f"{kind}: six lights in {took_s:.0f} s at {KEYS_PER_S:g} keys a second")
    assert took_s < SIX_LIGHTS_S
    expect(device.page.locator(".light h3")).to_have_count(len(LINES))

    began = time.monotonic()
    device.tap(device.page.get_by_role("button", name="Solve", exact=True))
    expect(device.page.get_by_role("button", name="Solve again")).to_be_visible()
    print(f"{kind}: solved in {time.monotonic() - began:.1f} s")
    twin = device.page.context.request.get(f"{laptop.address}{device.path}.json").json()
    hung = {each["name"]: each["filters"] for each in twin["lights"]}
    assert any(hung.values())

    device.tap(device.page.get_by_role("link", name="Hand-outs"))
    device.tap(device.page.get_by_role("button", name="Make them"))
    cards = device.page.locator("#made-cards")
    expect(cards.get_by_role("img")).to_have_count(len(LINES), timeout=60_000)
    expect(device.page.get_by_role("button", name="Stop")).to_have_count(0)  # nothing runs any more
    with device.page.expect_download() as coming:
        device.tap(cards.get_by_role("link", name="Download").first)
    pages = pdfium.PdfDocument(coming.value.path())
    words = [page.get_textpage().get_text_range().split("\r\n") for page in pages]
    assert [each[:2] for each in words] == [
        [str(number), name] for number, name in enumerate(LINES, 1)
    ]
    for page in words:
        assert all(f" {sheet}" in " ".join(page) for sheet in hung[page[1]]), page
