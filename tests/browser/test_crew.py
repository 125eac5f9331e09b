"""The crew: a phone joins by the QR code, sees what the laptop does within two seconds, and two
people who edit the same light are shown both versions."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Locator, expect

from evencast.web.interfaces import interfaces
from tests.browser.conftest import Hand
from tests.browser.device import Device
from tests.browser.laptop import Laptop

SEEN_WITHIN_S = 2.0
LIGHT = "bench lamp"


@pytest.fixture
def open_laptop(tmp_path: Path) -> Iterator[Laptop]:
    """A laptop that the crew can join."""
    networks = interfaces()
    if not networks:
        pytest.skip("this machine is on no network that a phone could join")
    found = Laptop(tmp_path / "laptop", "--crew", "--interface", networks[0].address, "--json")
    found.start()
    yield found
    found.stop()


def join(laptop: Laptop, hand: Hand, role: str, name: str) -> Device:
    """A phone that is new here."""
    phone = hand(laptop.told()["crew"].rstrip("/"), "phone")
    scan(laptop, phone, role, name)
    return phone


def scan(laptop: Laptop, phone: Device, role: str, name: str) -> None:
    """Scan a code and join."""
    link = next(each["link"] for each in laptop.told()["codes"] if each["role"] == role)
    phone.page.goto(link)
    expect(phone.page.get_by_text("came with the picture")).to_be_visible()
    assert "#" not in phone.page.url
    phone.page.get_by_label("Your name").fill(name)
    phone.tap(phone.page.get_by_role("button", name="Join"))
    expect(phone.page.get_by_role("heading", level=1)).to_have_text("Jobs")


def edit_level(device: Device, lux: str) -> None:
    """Type another level for the light, and do not save yet."""
    device.tap(device.page.get_by_role("link", name=f"Edit {LIGHT}", exact=True))
    expect(device.page.locator(".tray [name='name']")).to_be_focused()
    device.page.locator(".tray [name='level.lux']").fill(lux)


def seen_after_s(what: Locator, text: str) -> float:
    """How long it takes until a text is there."""
    began = time.monotonic()
    expect(what).to_contain_text(text)
    return time.monotonic() - began


def test_a_phone_joins_sees_changes_and_loses_none(open_laptop: Laptop, hand: Hand) -> None:
    """Ada at the laptop, Bo with the phone, on one light."""
    job = open_laptop.new_job()
    ada = hand(open_laptop.address, "desktop")
    bo = join(open_laptop, hand, "edit", "Bo")
    for device in (ada, bo):
        device.go(job.path)
        expect(device.page.locator(".light")).to_have_count(8)

    ada.tap(ada.page.get_by_role("button", name=f"Duplicate {LIGHT}", exact=True))
    took_s = seen_after_s(bo.page.locator("#lights"), f"{LIGHT} 2")
    print(f"an edit is on the other device after {took_s:.2f} s")
    assert took_s < SEEN_WITHIN_S

    edit_level(ada, "44")
    edit_level(bo, "50")
    ada.tap(ada.page.get_by_role("button", name="Save", exact=True))
    job.until(lambda: job.light(LIGHT)["level"]["lux"] == 44)
    expect(bo.page.locator(".tray [name='level.lux']")).to_have_value("50")
    bo.tap(bo.page.get_by_role("button", name="Save", exact=True))
    clash = bo.page.locator(".clash")
    expect(clash).to_contain_text("45 lx -> 44 lx")
    expect(clash).to_contain_text("45 lx -> 50 lx")
    expect(clash).to_contain_text("the laptop")
    bo.tap(clash.get_by_role("button", name="Keep mine"))
    job.until(lambda: job.light(LIGHT)["level"]["lux"] == 50)
    notes = " ".join(job.notes)
    assert "44 lx" in notes
    assert "50 lx" in notes
    assert (
        "by Bo" in notes
        or "Bo" in ada.page.context.request.get(f"{open_laptop.address}{job.path}/history").text()
    )


def test_who_looks_cannot_edit_and_who_is_ended_is_out(open_laptop: Laptop, hand: Hand) -> None:
    """Cy has the code to look; the laptop ends that session at a tap."""
    job = open_laptop.new_job()
    cy = join(open_laptop, hand, "view", "Cy")
    cy.go(job.path)
    expect(cy.page.locator(".light")).to_have_count(8)
    assert cy.page.locator("form[method=post]").count() == 0
    ada = hand(open_laptop.address, "desktop")
    ada.go("/crew")
    ada.sees("Cy")
    ada.tap(ada.page.get_by_role("button", name=re.compile("^End(?!.*all)")).first)
    expect(cy.page.locator("#ended")).to_be_visible()
    cy.go(job.path)
    expect(cy.page.get_by_role("heading", level=1)).to_have_text("Join the crew")


def test_what_waits_on_a_phone_goes_in_when_it_joins_again(open_laptop: Laptop, hand: Hand) -> None:
    """Tapped where the network does not reach; the session is ended meanwhile."""
    job = open_laptop.new_job()
    dee = join(open_laptop, hand, "edit", "Dee")
    dee.go(job.path)
    with dee.server_away():
        dee.page.context.set_offline(True)
        dee.tap(dee.page.get_by_role("button", name=f"Duplicate {LIGHT}", exact=True))
        expect(dee.page.locator("#waiting")).to_contain_text("One change waits")
        ada = hand(open_laptop.address, "desktop")
        ada.go("/crew")
        ada.tap(ada.page.get_by_role("button", name="End the session of Dee"))
        dee.page.context.set_offline(False)
        expect(dee.page.locator("#ended")).to_be_visible(timeout=30_000)
        scan(open_laptop, dee, "edit", "Dee")
    job.until(lambda: f"{LIGHT} 2" in job.text)
    expect(dee.page.locator("#waiting")).to_be_empty()
