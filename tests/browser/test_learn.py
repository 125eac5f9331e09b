"""Learn: predict, reveal, slide; the view for a class; the worksheet."""

from __future__ import annotations

import pypdfium2 as pdfium
import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Hand
from tests.browser.device import Kind
from tests.browser.laptop import Laptop


@pytest.mark.parametrize("kind", ["phone", "desktop"])
def test_a_lesson_is_guessed_revealed_and_slid(demo: Laptop, hand: Hand, kind: Kind) -> None:
    """Nothing of the answer is on the page before the guess; afterwards it moves with the hand."""
    device = hand(demo.address, kind)
    page = device.page
    device.go("/")
    device.tap(page.get_by_role("link", name="Learn", exact=True))
    device.tap(page.get_by_role("link", name="Higher Kelvin, warmer picture").first)
    expect(page.locator("figure")).to_have_count(0)
    device.tap(page.locator("label.pick").first)
    device.tap(page.get_by_role("button", name="Reveal"))
    expect(page.get_by_text("your guess")).to_be_visible()
    expect(page.get_by_text("so it is")).to_be_visible()
    figure = page.locator("figure.shown")
    expect(figure).to_be_visible()

    sentence, picture = page.locator("#sentence"), figure.inner_html()
    told, path = sentence.inner_text(), device.path
    device.tap(page.get_by_role("button", name="a step less").first)
    expect(sentence).not_to_have_text(told)
    assert figure.inner_html() != picture
    assert device.path != path, "the address holds the setting"
    sentence_there = sentence.inner_text()
    page.reload()
    expect(sentence).to_have_text(sentence_there)

    device.tap(page.get_by_role("link", name="For a class"))
    expect(page.locator("body.projector figure")).to_be_visible()
    page.wait_for_load_state()
    shown = page.get_by_role("heading", level=1).inner_text()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("heading", level=1)).not_to_have_text(shown)
    page.wait_for_load_state()
    assert page.evaluate("document.documentElement.scrollHeight <= innerHeight + 1") or (
        kind == "phone"
    ), "a class sees all of it at once"
    page.keyboard.press("Escape")
    expect(page.locator("body.projector")).to_have_count(0)


SLID = """async () => {
  const slider = document.querySelector("form.controls input[type=range]"), told = new Set();
  for (let step = 0; step <= 80; step += 1) {
    slider.value = Number(slider.min) + (slider.max - slider.min) * step / 80;
    slider.dispatchEvent(new Event("input", { bubbles: true }));
    await new Promise((done) => setTimeout(done, 16));
    told.add(document.querySelector("#sentence").innerText);
  }
  return told.size;
}"""
"""A slider that moves with every frame, for more than a second; how many sentences it showed."""


def test_the_picture_moves_under_the_hand(demo: Laptop, hand: Hand) -> None:
    """While it is slid, and not only where it rests."""
    device = hand(demo.address, "desktop")
    device.go("/learn/ruler?guess=show")
    assert device.page.evaluate(SLID) > 4


@pytest.mark.parametrize("kind", ["phone", "desktop"])
def test_the_worksheet_is_worked_and_printed(demo: Laptop, hand: Hand, kind: Kind) -> None:
    """Answers are folded away; on paper they stand on pages of their own."""
    device = hand(demo.address, kind)
    page = device.page
    device.go("/learn/worksheet")
    first = page.locator("article").first
    expect(first.locator("li").last).to_be_hidden()
    device.tap(first.get_by_text("The answer, step by step"))
    expect(first.locator("p.answer")).to_be_visible()
    page.get_by_label("Answers").select_option("yes")
    page.get_by_label("Date on it").fill("2026-03-07")
    query = "paper=a4&date=2026-03-07&answers=yes"
    sheet = page.context.request.get(f"{demo.address}/learn/worksheet.pdf?{query}")
    assert sheet.headers["content-type"] == "application/pdf"
    pages = pdfium.PdfDocument(sheet.body())
    words = [each.get_textpage().get_text_range() for each in pages]
    title = first.get_by_role("heading").inner_text().partition(" ")[2]
    assert title in words[0]
    assert sum(title in each for each in words) == 2
    assert "2026-03-07" in "".join(words)
