"""Taps that are faster than the answers: every one counts, or is said not to."""

from __future__ import annotations

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.conftest import Hand
from tests.browser.device import Device, Kind
from tests.browser.laptop import Job

KEY, OTHER = "key Fresnel", "bench lamp"
A_STOP = 2.0


def at_once(device: Device, *buttons: Locator) -> None:
    """Tap them before any answer can come."""
    handles = [each.element_handle() for each in buttons]
    device.page.evaluate("buttons => { for (const each of buttons) each.click(); }", handles)


def third(device: Device, light: str, way: str = "more") -> Locator:
    return device.page.get_by_role("button", name=f"{light}: level a third of a stop {way}")


def lux(job: Job, light: str) -> float:
    return float(job.light(light)["level"]["lux"])


@pytest.mark.parametrize("kind", ["phone", "desktop"])
def test_three_thirds_are_a_stop_however_fast(job: Job, hand: Hand, kind: Kind) -> None:
    """And the page still hears of others afterwards."""
    device = hand(job.laptop, kind)
    device.go(job.path)
    before = lux(job, KEY)
    at_once(device, *[third(device, KEY)] * 3)
    job.until(lambda: lux(job, KEY) == pytest.approx(A_STOP * before, rel=1e-3))
    expect(device.page.locator("#plan")).to_have_attribute("data-revision", "4")
    number = job.change_elsewhere()
    expect(device.page.locator("#plan")).to_have_attribute("data-revision", str(number))


def test_two_lamps_at_once_are_both_done_and_shown(job: Job, hand: Hand) -> None:
    device = hand(job.laptop, "phone")
    device.go(job.path)
    duplicate = device.page.get_by_role("button", name=f"Duplicate {OTHER}")
    before = lux(job, KEY)
    at_once(device, third(device, KEY, "less"), duplicate, duplicate)
    expect(device.page.locator(".light", has_text=OTHER)).to_have_count(2)
    expect(device.page.locator("#plan")).to_have_attribute("data-revision", "3")
    assert lux(job, KEY) == pytest.approx(before / A_STOP ** (1 / 3), rel=1e-3)
    number = job.change_elsewhere()
    expect(device.page.locator("#plan")).to_have_attribute("data-revision", str(number))
    assert number == 4, "a light was not duplicated twice"


def test_what_means_another_thing_by_now_is_not_done(job: Job, hand: Hand) -> None:
    """Undo of what was done before, tapped while the next is on its way."""
    device = hand(job.laptop, "desktop")
    device.go(job.path)
    before = lux(job, KEY)
    device.tap(third(device, KEY))
    undo = device.page.get_by_role("button", name="Undo")
    expect(undo).to_be_visible()
    at_once(device, third(device, KEY), undo)
    expect(device.page.locator("#refused")).to_contain_text("it was not done. Look, and tap again.")
    expect(device.page.locator("#refused")).to_be_in_viewport()
    assert lux(job, KEY) == pytest.approx(before * A_STOP ** (2 / 3), rel=1e-3)


def test_sheets_are_counted_as_fast_as_they_are_tapped(job: Job, hand: Hand) -> None:
    device = hand(job.laptop, "phone")
    device.go(job.path)
    row = device.open_kit()
    count = row.locator(".count b").first
    before = int(count.inner_text())
    at_once(device, *[row.get_by_role("button", name="more").first] * 4)
    expect(count).to_have_text(str(before + 4))


def test_taps_that_the_page_is_left_under_are_done(job: Job, hand: Hand) -> None:
    """Three, and away to the jobs before the first is answered."""
    device = hand(job.laptop, "phone")
    device.go(job.path)
    before = lux(job, KEY)
    button = third(device, KEY).element_handle()
    device.page.evaluate(
        "button => { for (let n = 0; n < 3; n += 1) button.click(); location.href = '/'; }", button
    )
    job.until(lambda: lux(job, KEY) == pytest.approx(A_STOP * before, rel=1e-3))
    expect(device.page.get_by_role("heading", level=1)).to_have_text("Jobs")
    expect(device.page.locator("#waiting")).to_be_empty()


LINES = ["tungsten 650 3 m", "candle 1900K practical", "HMI 1200 5600K 4 m"]


def type_at_once(device: Device, *lines: str) -> None:
    """Each with Enter after it, before any answer can come."""
    device.page.locator("#line").evaluate(
        "(field, lines) => lines.forEach((l) => { field.value = l; field.form.requestSubmit(); })",
        lines,
    )


def test_lamps_typed_while_the_last_is_saved_are_added_too(job: Job, hand: Hand) -> None:
    """The second is no second tap on the first; the third stands where the second was."""
    device = hand(job.laptop, "phone")
    device.go(job.path)
    type_at_once(device, LINES[0], *LINES)
    for said in ("tungsten", "candle", "HMI"):
        expect(device.page.locator("#lights")).to_contain_text(said)
    expect(device.page.locator("#line")).to_have_value("")
    assert len(job.toml["light"]) == 11, "the same line, sent twice at once, is one lamp"
    expect(device.page.locator("#refused")).to_be_empty()


def test_so_they_are_where_the_laptop_is_away(job: Job, hand: Hand) -> None:
    """And what is typed but not sent yet stays in its field."""
    device = hand(job.laptop, "phone")
    device.go(job.path)
    page = device.page
    with device.server_away():
        page.context.set_offline(True)
        type_at_once(device, *LINES)
        page.locator("#line").evaluate("field => { field.value = 'LED panel'; }")
        expect(page.locator("#waiting")).to_contain_text("3 changes wait")
        expect(page.locator("#line")).to_have_value("LED panel")
        page.context.set_offline(False)
        expect(page.locator("#lights")).to_contain_text("HMI", timeout=30_000)
    assert len(job.toml["light"]) == 11
    assert sum("HMI" in each["name"] for each in job.toml["light"]) == 1
    expect(page.locator("#line")).to_have_value("LED panel")


def test_a_lamp_that_waited_and_wants_an_answer_asks_beside_what_is_typed(
    job: Job, hand: Hand
) -> None:
    """Also: how many wait is told above the bar of the phone, not under it."""
    device = hand(job.laptop, "phone")
    device.go(job.path)
    page = device.page
    with device.server_away():
        page.context.set_offline(True)
        type_at_once(device, "HMI 1200 4 m")
        waits = page.locator("#waiting")
        expect(waits).to_contain_text("One change waits")
        told, bar = waits.bounding_box(), page.locator(".bar").bounding_box()
        assert told is not None
        assert bar is not None
        assert told["y"] + told["height"] <= bar["y"]
        page.locator("#line").evaluate("field => { field.value = 'LED panel'; }")
        page.context.set_offline(False)
        refused = page.locator("#refused")
        expect(refused).to_contain_text("Which colour has it (HMI)?", timeout=30_000)
    expect(refused.locator("[name=line]")).to_have_value("HMI 1200 4 m")
    expect(page.locator("#line")).to_have_value("LED panel")
    expect(page.locator("#entry")).to_have_count(1)
