"""The plan page under the hand: how many taps things take, and what stays while it changes."""

from __future__ import annotations

import time

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Hand
from tests.browser.device import Device
from tests.browser.laptop import Job

KEY = "key Fresnel"
SIX_LIGHTS_S = 180


@pytest.fixture
def phone(hand: Hand, job: Job) -> Device:
    """A phone with the demo's plan open."""
    found = hand(job.laptop, "phone")
    found.go(job.path)
    return found


def tap_a_light(phone: Device, *chips: str) -> None:
    """What it is, how large, how far; then add it."""
    count = phone.page.locator(".light").count()
    for chip in chips:
        phone.tap(phone.page.locator("#taps label:visible").get_by_text(chip, exact=True).first)
    phone.tap(phone.page.get_by_role("button", name="Add the light"))
    expect(phone.page.locator(".light")).to_have_count(count + 1)


def test_a_light_in_four_taps_and_the_next_one_in_one(phone: Device, job: Job) -> None:
    """What was tapped last is remembered on this device."""
    with phone.at_most(taps=4):
        tap_a_light(phone, "Tungsten", "650 W", "3 m")
    light = job.toml["light"][-1]
    assert (light["watts"], light["level"]["distance_m"]) == (650, 3)
    with phone.at_most(taps=1):
        tap_a_light(phone)
    again = job.toml["light"][-1]
    assert (again["watts"], again["level"]["distance_m"]) == (650, 3)
    assert again["name"] != light["name"]
    assert phone.overflow() <= 0


def test_six_lights_by_taps_well_within_three_minutes(phone: Device, job: Job) -> None:
    """The pages' share of the time; what is left is for the hand."""
    lights = (
        ("Tungsten", "650 W", "3 m"),
        ("HMI", "1200 W", "6 m"),
        ("LED panel", "5600 K", "2 m"),
    )
    began = time.monotonic()
    with phone.at_most(taps=24):
        for chips in lights * 2:
            tap_a_light(phone, *chips)
    took_s = time.monotonic() - began
    print(f"six lights by taps: {took_s:.1f} s of {SIX_LIGHTS_S} are the pages'")
    assert took_s < SIX_LIGHTS_S / 3
    assert len(job.toml["light"]) == 14


def test_a_line_is_undone_and_a_level_stepped(phone: Device, job: Job) -> None:
    """One tap each: undo, a third of a stop, another light like it."""
    phone.page.locator("#line").type("tungsten 650, 3 m, flood")
    expect(phone.page.locator("#understood")).to_contain_text("flood")
    phone.page.keyboard.press("Enter")
    expect(phone.page.locator(".light")).to_have_count(9)
    with phone.at_most(taps=1):
        phone.tap(phone.page.get_by_role("button", name="Undo"))
        expect(phone.page.locator(".light")).to_have_count(8)
    with phone.at_most(taps=1):
        phone.tap(phone.page.get_by_role("button", name=f"{KEY}: level a third of a stop more"))
        job.until(lambda: job.light(KEY)["level"]["lux"] != 1400)
    # a third of a stop more is 1400 x 2^(1/3) = 1764 lux, by hand
    assert job.light(KEY)["level"]["lux"] == pytest.approx(1764, rel=0.01)


def test_dragging_keeps_focus_open_details_and_what_is_typed(phone: Device, job: Job) -> None:
    page, before = phone.page, job.text
    page.locator("#line").type("HMI 1200")
    phone.tap(page.get_by_role("link", name=f"Edit {KEY}"))
    field = page.locator(".tray [name='name']")
    field.fill("the other key")
    page.locator("#chart-table").evaluate("each => { each.open = true; }")
    page.locator("#mired").focus()
    for _ in range(20):
        page.keyboard.press("ArrowLeft")
    expect(page.locator("#balance-tools")).to_contain_text("as dragged")
    expect(page.locator("#chart-table")).to_have_attribute("open", "")
    expect(page.locator("#mired")).to_be_focused()
    expect(field).to_have_value("the other key")
    expect(page.locator("#line")).to_have_value("HMI 1200")
    assert job.text == before
    phone.tap(page.locator("#k-up"))
    expect(page.locator("#k-up")).to_be_focused()


def test_what_another_saves_takes_nothing_away(phone: Device, hand: Hand, job: Job) -> None:
    """It appears above what is being typed."""
    phone.page.locator("#line").type("tungsten 650")
    other = hand(job.laptop, "desktop")
    other.go(job.path)
    other.page.locator("#line").fill("candle 1900K practical")
    other.page.keyboard.press("Enter")
    expect(phone.page.locator("#lights")).to_contain_text("candle")
    expect(phone.page.locator("#line")).to_have_value("tungsten 650")
    expect(phone.page.locator("#understood")).to_contain_text("650 W")


def test_a_phone_out_of_reach_sends_when_it_is_back(phone: Device, job: Job) -> None:
    """It walks behind the house; the laptop is well."""
    page = phone.page
    with phone.server_away():
        page.context.set_offline(True)
        for line in ("tungsten 650 3 m", "candle 1900K practical"):
            page.locator("#line").fill(line)
            page.keyboard.press("Enter")
            expect(page.locator("#line")).to_have_value("")
        expect(page.locator("#waiting")).to_contain_text("2 changes wait")
        assert len(job.toml["light"]) == 8
        page.context.set_offline(False)
        expect(page.locator("#lights")).to_contain_text("candle", timeout=30_000)
    assert len(job.toml["light"]) == 10
    expect(page.locator("#waiting")).to_have_text("")


def test_without_script_a_light_is_added(browser: Browser, job: Job) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(job.laptop + job.path)
    page.locator("#line").fill("tungsten 650 3 m")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Undo")).to_be_visible()
    assert job.toml["light"][-1]["name"] == "tungsten 650"
    context.close()
