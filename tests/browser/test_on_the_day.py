"""On the day: a set-up is opened, the balance dragged, a light read in two taps and the number, the
trim done; and all of it by Tab and Enter alone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Hand
from tests.browser.device import Device, Kind
from tests.browser.laptop import Job

KEY = "key Fresnel"


def solve(device: Device) -> None:
    """Solve as it is asked on the page."""
    device.tap(device.page.get_by_role("button", name="Solve", exact=True))
    expect(device.page.get_by_role("button", name="Solve again")).to_be_visible(timeout=60_000)


def drag_to_the_left(device: Device, *, steps: int = 12, rest_ms: float = 0.0) -> None:
    """The slider, with the mouse or a finger, from its knob to a tenth of its length.

    rest_ms : how long the hand stays there before it lets go
    """
    slider = device.page.locator("#mired")
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    assert box is not None
    low, high, value = (
        float(slider.evaluate(f"each => each.{name}")) for name in ("min", "max", "value")
    )
    inset = 10.0  # half a knob
    start = box["x"] + inset + (value - low) / (high - low) * (box["width"] - 2 * inset)
    y, end = box["y"] + box["height"] / 2, box["x"] + box["width"] / 10
    if device.kind == "desktop":
        device.page.mouse.move(start, y)
        device.page.mouse.down()
        device.page.mouse.move(end, y, steps=steps)
        device.page.wait_for_timeout(rest_ms)
        device.page.mouse.up()
        return
    touch = device.page.context.new_cdp_session(device.page)
    for step in range(steps + 1):
        x = start + (end - start) * step / steps
        kind = "touchMove" if step else "touchStart"
        points = [{"x": x, "y": y}]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    device.page.wait_for_timeout(rest_ms)
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


@pytest.mark.parametrize("rest_ms", [0.0, 400.0])
@pytest.mark.parametrize("steps", [2, 5])
@pytest.mark.parametrize("kind", ["phone", "desktop"])
def test_the_balance_is_where_the_hand_let_go(
    job: Job, hand: Hand, kind: Kind, steps: int, rest_ms: float
) -> None:
    """However fast it was, and whether answers came under a finger that rested or not."""
    device = hand(job.laptop, kind)
    device.go(job.path)
    told = device.page.locator("#balance-tools")
    drag_to_the_left(device, steps=steps, rest_ms=rest_ms)
    expect(told).to_contain_text("as dragged")
    value = float(device.page.locator("#mired").evaluate("each => each.value"))
    assert value < 170.0
    expect(told).to_have_attribute("data-mired", re.compile(r"^1[45]\d\.\d$"))
    shown = float(told.get_attribute("data-mired") or 0.0)
    assert abs(shown - value) < 2.0


@pytest.mark.parametrize("kind", ["phone", "desktop"])
def test_a_set_up_is_worked_through(job: Job, hand: Hand, kind: Kind) -> None:
    """From the plan as it was solved to a light that is right again."""
    device = hand(job.laptop, kind)
    device.go(job.path)
    solve(device)
    device.tap(device.page.get_by_role("link", name="first", exact=True))
    here = device.page.get_by_label("Set-ups").locator("[aria-current]")
    expect(here).to_have_text("first")

    before, saved = device.page.locator("#answer").inner_text(), job.text
    drag_to_the_left(device)
    expect(device.page.locator("#balance-tools")).to_contain_text("as dragged")
    expect(device.page.locator("#answer")).not_to_have_text(before)
    told = device.page.locator("#balance-tools .big")
    expect(told).to_have_text(re.compile("^[67][0-9]{3} K$"))  # where the hand let go
    expect(device.page).to_have_url(re.compile("balance=[67][0-9]{3}K"))
    assert job.text == saved
    device.tap(device.page.locator("#k-back"))
    expect(device.page.locator("#balance-tools")).not_to_contain_text("as dragged")

    with device.at_most(taps=2):
        device.tap(device.page.get_by_role("link", name=f"Read {KEY}"))
        expect(device.page.get_by_label("reads, in kelvin")).to_be_focused()
        device.page.keyboard.type("3050")
        device.tap(device.page.get_by_role("button", name="Save the reading"))
        expect(device.page.locator(".trim")).to_contain_text("read 3050 K")
    assert job.hangs(KEY)["read"]["cct_k"] == 3050

    device.go(device.path)  # whoever comes later sees it too, and the trim is a tap away
    expect(device.page.locator("#answer")).to_contain_text(f"As read, not as wanted: {KEY} (")
    with device.at_most(taps=2):
        device.tap(device.page.get_by_role("link", name=f"Trim {KEY}"))
        expect(device.page.locator(".trim")).to_contain_text("read 3050 K")
        device.tap(device.page.get_by_role("button", name="Do it"))
        job.until(lambda: job.hangs(KEY).get("rigged"))
    row = device.page.locator(".light", has_text=KEY).first
    expect(row).to_contain_text("rigged")
    for sheet in job.hangs(KEY)["rigged"]["filters"]:
        expect(row.locator(".hangs")).to_contain_text(sheet)


SEEN = """getComputedStyle(document.activeElement).outlineStyle !== 'none'
  || document.activeElement === document.body"""
"""Where the focus is; from the last stop it goes to the page itself, then to the first."""


def tab_to(page: Page, wanted: str) -> None:
    """Press Tab until the focus is where it is wanted; every stop on the way can be seen."""
    for _ in range(200):
        page.keyboard.press("Tab")
        if page.evaluate("wanted => document.activeElement.matches(wanted)", wanted):
            return
        assert page.evaluate(SEEN), page.evaluate("document.activeElement.outerHTML.slice(0, 200)")
    pytest.fail(f"no way by Tab to {wanted}")


def test_all_of_it_by_tab_and_enter_alone(job: Job, hand: Hand) -> None:
    """The mouse is never touched."""
    device = hand(job.laptop, "desktop")
    device.go(job.path)
    page = device.page
    tab_to(page, "#k-up")
    page.keyboard.press("Enter")
    expect(page.locator("#balance-tools")).to_contain_text("as dragged")
    tab_to(page, "#k-keep")
    page.keyboard.press("Enter")
    expect(page.locator("#balance-tools")).not_to_contain_text("as dragged")
    assert "4350" in job.text
    page.wait_for_load_state()
    tab_to(page, f"[aria-label='Read {KEY}']")
    page.keyboard.press("Enter")
    expect(page.get_by_label("reads, in kelvin")).to_be_focused()
    page.keyboard.type("3050")
    page.keyboard.press("Enter")
    expect(page.locator(".trim")).to_contain_text("read 3050 K")
    tab_to(page, ".trim button.main")
    page.keyboard.press("Enter")
    job.until(lambda: job.hangs(KEY).get("rigged"))
    tab_to(page, f"[aria-label='Rigged'], [aria-label='What is rigged on {KEY}']")
    page.keyboard.press("Enter")
    expect(page.locator(".tray form")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator(".tray form")).to_have_count(0)


def test_a_save_by_somebody_else_takes_no_slider_out_of_a_hand(job: Job, hand: Hand) -> None:
    """It is shown as soon as the hand lets go, at the balance where it let go."""
    device = hand(job.laptop, "desktop")
    device.go(job.path)
    page, slider = device.page, device.page.locator("#mired")
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    assert box is not None
    y = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + box["width"] / 2, y)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 3, y, steps=4)
    before = page.locator("#plan").get_attribute("data-revision")
    saved = job.change_elsewhere()
    page.wait_for_timeout(1500)  # it was told of it after half a second
    assert page.locator("#plan").get_attribute("data-revision") == before
    page.mouse.move(box["x"] + box["width"] / 10, y, steps=4)
    page.mouse.up()
    told = page.locator("#balance-tools .big")
    expect(page.locator("#plan")).to_have_attribute("data-revision", str(saved))
    expect(told).to_have_text(re.compile("^[67][0-9]{3} K$"))
    expect(page).to_have_url(re.compile("balance=[67][0-9]{3}K"))
