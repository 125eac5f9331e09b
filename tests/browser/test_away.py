"""The laptop is pulled from the wall and started again: what was saved is there, and what was typed
meanwhile is sent."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Hand
from tests.browser.device import Kind
from tests.browser.laptop import Laptop

KEY, LIGHT = "key Fresnel", "bench lamp"


@pytest.mark.parametrize(
    ("kind", "away_s"),
    [("phone", 0), ("desktop", 0), pytest.param("phone", 65, marks=pytest.mark.long)],
)
def test_the_laptop_is_pulled_from_the_wall(
    laptop: Laptop, hand: Hand, kind: Kind, away_s: int
) -> None:
    """Killed right after a save; a new light and an edit are typed before it is back."""
    laptop.start()
    job = laptop.new_job()
    device = hand(laptop.address, kind)
    page = device.page
    device.go(job.path)
    device.tap(page.get_by_role("button", name=f"Duplicate {LIGHT}"))
    expect(page.locator("#lights")).to_contain_text(f"{LIGHT} 2")
    laptop.pull_the_plug()

    with device.server_away():
        expect(page.locator("#away")).to_be_visible()
        page.locator("#line").fill("candle 1900K practical")
        page.locator("#line").press("Enter")
        expect(page.locator("#waiting")).to_contain_text("One change waits")
        device.tap(page.get_by_role("button", name=f"Remove {LIGHT} 2"))
        expect(page.locator("#waiting")).to_contain_text("2 changes wait")
        page.wait_for_timeout(1000 * away_s)
        laptop.start()
        expect(page.locator("#away")).to_be_hidden(timeout=30_000)
        expect(page.locator("#lights")).to_contain_text("candle")
        expect(page.locator("#lights")).not_to_contain_text(f"{LIGHT} 2")

    names = [each["name"] for each in job.toml["light"]]
    assert any("candle" in each for each in names)
    assert f"{LIGHT} 2" not in names
    assert sum(f"{LIGHT} 2" in each for each in job.notes) == 2
    assert page.evaluate("localStorage.getItem('waiting')") == "[]"
    device.go(job.path)
    expect(page.locator(".light")).to_have_count(9)


def test_what_is_tapped_again_and_again_meanwhile_all_counts(laptop: Laptop, hand: Hand) -> None:
    """Three thirds are a stop, and none of them clashes with the others."""
    laptop.start()
    job = laptop.new_job()
    device = hand(laptop.address, "phone")
    page = device.page
    device.go(job.path)
    before = job.light(KEY)["level"]["lux"]
    laptop.pull_the_plug()
    with device.server_away():
        expect(page.locator("#away")).to_be_visible()
        for count in range(1, 4):
            device.tap(page.get_by_role("button", name=f"{KEY}: level a third of a stop more"))
            expect(page.locator("#waiting")).to_contain_text(
                f"{count} changes wait" if count > 1 else "One change waits"
            )
        laptop.start()
        expect(page.locator("#away")).to_be_hidden(timeout=30_000)
    job.until(lambda: job.light(KEY)["level"]["lux"] == pytest.approx(2 * before, rel=1e-3))
    expect(page.locator("#waiting")).to_be_empty()
    expect(page.locator("#refused")).to_be_empty()


def test_two_pages_of_one_phone_send_it_once(laptop: Laptop, hand: Hand) -> None:
    """A sheet counted once while the laptop was away, with the kit open twice."""
    laptop.start()
    job = laptop.new_job()
    device = hand(laptop.address, "phone")
    device.go(job.path)
    row = device.open_kit()
    count = row.locator(".count b").first
    before = int(count.inner_text())
    others = [device.page.context.new_page() for _ in range(3)]
    for each in others:
        each.goto(device.page.url)
    laptop.pull_the_plug()
    with device.server_away():
        expect(device.page.locator("#away")).to_be_visible()
        device.tap(row.get_by_role("button", name="more").first)
        for each in [device.page, *others]:
            expect(each.locator("#waiting")).to_contain_text("One change waits")
        laptop.start()
        for each in [device.page, *others]:
            expect(each.locator("#waiting")).to_be_empty(timeout=30_000)
            expect(each.locator("[data-row] .count b").first).to_have_text(str(before + 1))


def test_what_cannot_be_taken_any_more_is_shown_with_what_it_said(
    laptop: Laptop, hand: Hand
) -> None:
    """Removed and read, on one phone; the reading has nothing to stand at, and is not lost."""
    laptop.start()
    job = laptop.new_job()
    device = hand(laptop.address, "phone")
    page = device.page
    device.go(job.path)
    device.tap(page.get_by_role("link", name=f"Read {KEY}"))
    expect(page.get_by_label("reads, in kelvin")).to_be_focused()
    page.keyboard.type("3050")
    laptop.pull_the_plug()
    with device.server_away():
        expect(page.locator("#away")).to_be_visible()
        device.tap(page.get_by_role("button", name=f"Remove {KEY}"))
        expect(page.locator("#waiting")).to_contain_text("One change waits")
        device.tap(page.get_by_role("button", name="Save the reading"))
        expect(page.locator("#waiting")).to_contain_text("2 changes wait")
        laptop.start()
        expect(page.locator("#waiting")).to_be_empty(timeout=30_000)
        told = page.locator("#refused")
        expect(told).to_contain_text(KEY)
        expect(told).to_contain_text("3050")
        expect(told).to_be_in_viewport()
    assert KEY not in [each["name"] for each in job.toml["light"]]


def test_a_form_that_is_open_is_not_lost(laptop: Laptop, hand: Hand) -> None:
    """What was typed stays typed while the laptop is away, and is saved when it is back."""
    laptop.start()
    job = laptop.new_job()
    device = hand(laptop.address, "phone")
    page = device.page
    device.go(job.path)
    device.tap(page.get_by_role("link", name=f"Read {KEY}"))
    expect(page.get_by_label("reads, in kelvin")).to_be_focused()
    page.keyboard.type("3050")
    laptop.pull_the_plug()
    with device.server_away():
        expect(page.locator("#away")).to_be_visible()
        laptop.start()
        expect(page.locator("#away")).to_be_hidden(timeout=30_000)
    expect(page.get_by_label("reads, in kelvin")).to_have_value("3050")
    device.tap(page.get_by_role("button", name="Save the reading"))
    job.until(lambda: job.hangs(KEY).get("read"))
    assert job.hangs(KEY)["read"]["cct_k"] == 3050
