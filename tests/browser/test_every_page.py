"""What holds on every page there is: axe-core finds nothing serious, nothing reaches over the side
of a phone, no words are squeezed into a column, everything can be hit with a thumb, no two fields
beside each other are called the same, the console is silent, the page is light.

axe-core: rules after WCAG 2.2; https://github.com/dequelabs/axe-core
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import pypdfium2 as pdfium
import pytest
from playwright.sync_api import Browser, CDPSession, Page, expect

from tests.browser.device import Device, Kind, Scheme, device
from tests.browser.laptop import Laptop
from tests.browser.walk import page_routes, route_of, walk

MOST_BYTES = 300_000
"""Of a page with its style, scripts and fonts, without pictures."""

LEAST_TOUCH = 44
"""Of everything that is tapped, in pixels. Common practice of phones; WCAG 2.2 asks for 24."""

PARTS = {
    "/crew/people",
    "/kit/{number}/digits",
    "/learn/{slug}/live",
    "/live",
    "/plan/{number}/answer",
    "/plan/{number}/rest",
    "/plan/{number}/solve",
}
"""Routes that answer a part of a page."""

WITHOUT_SCRIPT = ("entry?line=HMI+4000", "trim?light=key+Fresnel")
"""Pages of a plan that its forms lead to where there is no script."""

NO_SUCH_PAGE = "/no/such/page"


@cache
def axe() -> str:
    """The script of axe-core."""
    return files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")


@pytest.fixture(scope="module")
def paths(browser: Browser, demo: Laptop) -> list[str]:
    """Every page with the demo's job in the library, and one that does not exist."""
    context = browser.new_context()
    plan = demo.plan
    more = [f"{plan}/{each}" for each in WITHOUT_SCRIPT]
    found = [*walk(context, demo.address, ["/", *more]), NO_SUCH_PAGE]
    context.close()
    return found


def test_every_page_is_reached_by_links(paths: list[str]) -> None:
    """So that nothing below is true of some pages only."""
    reached = {route_of(path.partition("?")[0]) for path in paths}
    assert set(page_routes()) - PARTS - reached == set()
    assert PARTS <= set(page_routes())


@dataclass
class Weighed:
    """A page and what it loaded, in bytes over the wire."""

    session: CDPSession
    loaded: dict[str, int]


def _watch(found: Device) -> Weighed:
    """Count what comes over the wire; pictures are not counted."""
    session = found.page.context.new_cdp_session(found.page)
    session.send("Network.enable")
    session.send("Network.setCacheDisabled", {"cacheDisabled": True})
    weighed, kinds = Weighed(session, {}), dict[str, tuple[str, str]]()

    def came(event: dict[str, Any]) -> None:
        kinds[event["requestId"]] = (event["type"], event["response"]["url"])

    def ended(event: dict[str, Any]) -> None:
        kind, url = kinds.get(event["requestId"], ("Other", ""))
        if kind != "Image":
            weighed.loaded[url] = int(event["encodedDataLength"])

    session.on("Network.responseReceived", came)
    session.on("Network.loadingFinished", ended)
    return weighed


def _opened(page: Page) -> None:
    """Everything that is folded away is looked at too."""
    page.evaluate("for (const each of document.querySelectorAll('details')) each.open = true")


def _violations(page: Page, *rules: str) -> Iterator[str]:
    """What axe-core calls serious or critical; with rules, by these alone."""
    only = f"{{runOnly: {json.dumps(list(rules))}}}" if rules else "{}"
    asked = f"axe.run(document, {only}).then((found) => found.violations)"
    for each in page.evaluate(asked):
        if each["impact"] in ("serious", "critical"):
            for node in each["nodes"]:
                yield f"{each['id']}: {node['html'][:160]} {node['failureSummary'][:200]}"


SMALL = """least => [...document.querySelectorAll(`a.button, button, select,
    textarea, summary, input:not([type=hidden], [type=radio], [type=checkbox])`)]
  .filter((each) => each.checkVisibility({visibilityProperty: true}) && !each.closest("noscript"))
  .map((each) => [each, each.getBoundingClientRect()])
  .filter(([each, box]) => box.width > 1 && box.height < least - 0.5)
  .map(([each, box]) => `${box.width} x ${box.height}: ${each.outerHTML.slice(0, 120)}`)"""

UNNAMED = """() => [...document.querySelectorAll("svg")]
  .filter((each) => each.checkVisibility() && !each.closest("[aria-hidden=true]"))
  .filter((each) => each.getAttribute("role") !== "img"
    || !(each.getAttribute("aria-label") || each.getAttribute("aria-labelledby")
         || each.querySelector(":scope > title")))
  .map((each) => each.outerHTML.slice(0, 120))"""

SQUEEZED = """() => {
  const found = [], texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
  while (texts.nextNode()) {
    const text = texts.currentNode.data.trim(), range = document.createRange()
    if (text.length < 12 || !texts.currentNode.parentElement.checkVisibility()) continue
    range.selectNodeContents(texts.currentNode)
    const lines = new Set([...range.getClientRects()].map((box) => Math.round(box.top))).size
    if (text.length / lines < 5) found.push(`squeezed into ${lines} lines: ${text.slice(0, 60)}`)
  }
  return found
}"""

ALIKE = """() => {
  const seen = new Map(), found = []
  for (const label of document.querySelectorAll("form label")) {
    const own = [...label.childNodes].filter((each) => each.nodeType === Node.TEXT_NODE)
    const said = own.map((each) => each.data.trim()).join(" ").trim()
    const group = label.closest("fieldset, details, form")
    if (said && seen.get(group)?.has(said)) found.push(`two fields called ${said}`)
    seen.set(group, (seen.get(group) ?? new Set()).add(said))
  }
  return found
}"""


def _faults(
    found: Device, weighed: Weighed, path: str, looks: list[tuple[Scheme, bool]], kept: Path | None
) -> Iterator[str]:
    """What is wrong with one page at one size.

    looks : themes, and whether every rule is tried in it or those of colour alone
    kept  : where a picture of it goes, to be looked at
    """
    page = found.page
    weighed.loaded.clear()
    found.go(path)
    page.wait_for_load_state("load")
    page.evaluate("document.fonts.ready")
    if kept is not None:
        found.picture(kept / f"{path.strip('/').replace('/', '-') or 'jobs'}.png")
    if found.overflow() > 0:
        yield f"wider than the screen by {found.overflow()}"
    total = sum(weighed.loaded.values())
    if total > MOST_BYTES:
        most = sorted(weighed.loaded.items(), key=lambda each: -each[1])[:4]
        yield f"weighs {total} bytes: {most}"
    _opened(page)
    if found.overflow() > 0:
        yield f"unfolded wider than the screen by {found.overflow()}"
    if found.kind == "phone":
        yield from page.evaluate(SMALL, LEAST_TOUCH)
    yield from page.evaluate(UNNAMED)
    yield from page.evaluate(SQUEEZED)
    yield from page.evaluate(ALIKE)
    weighed.session.send("Runtime.evaluate", {"expression": axe()})  # past the policy, which stands
    for scheme, whole in looks:
        page.emulate_media(color_scheme=scheme)
        rules = () if whole else ("color-contrast",)
        yield from (f"{scheme}: {each}" for each in _violations(page, *rules))


@pytest.mark.parametrize("kind", ["desktop", "phone"])
def test_nothing_is_wrong_with_any_page(
    browser: Browser, demo: Laptop, paths: list[str], kind: Kind, keep: bool, tmp_path: Path
) -> None:
    """Dark and light, everything unfolded; faults of all pages at once."""
    looks: list[tuple[Scheme, bool]] = [("light", kind == "desktop"), ("dark", kind == "phone")]
    found = device(browser, demo.address, kind, scheme=looks[0][0])
    weighed = _watch(found)
    faults = [
        f"{path}: {fault}"
        for path in paths
        for fault in _faults(found, weighed, path, looks, tmp_path if keep else None)
    ]
    found.page.context.close()
    wrong = faults + found.wrongs
    assert not wrong, "\n".join(wrong)


def test_paper_holds_the_answer_and_nothing_to_press(browser: Browser, demo: Laptop) -> None:
    """As the browser prints a plan: rows across the page, no form, no button, white ground."""
    found = device(browser, demo.address, "desktop")
    found.go(demo.plan)
    found.page.emulate_media(media="print")
    expect(found.page.locator(".light")).to_have_count(8)
    for each in found.page.locator(".light").all():
        expect(each).to_be_visible()
    seen = found.page.locator("button:visible, form:visible, nav:visible, summary:visible")
    expect(seen).to_have_count(0)
    ground = found.page.locator("body").evaluate("each => getComputedStyle(each).backgroundColor")
    assert ground == "rgb(255, 255, 255)"
    words = pdfium.PdfDocument(found.page.pdf(format="A4"))
    assert "key Fresnel" in words[0].get_textpage().get_text_range()
    found.page.context.close()
    assert found.wrongs == []
