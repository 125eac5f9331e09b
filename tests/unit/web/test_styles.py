"""What styles and pictures must agree in, and how a browser keeps them."""

from __future__ import annotations

import re
from dataclasses import asdict

from starlette.testclient import TestClient

from evencast.handouts.charts.ground import GREYS
from evencast.web.app import STATIC

CHART_GREY = re.compile(r"--chart-([a-z]+): (#[0-9a-f]{6});")


def test_dark_pages_show_charts_on_the_ground_of_a_screen() -> None:
    """Both ways in which a page is dark; the others leave charts on white."""
    found = CHART_GREY.findall((STATIC / "app.css").read_text("utf-8"))
    screen = asdict(GREYS["screen"])
    assert len(found) == 2 * len(screen)
    assert dict(found[: len(screen)]) == dict(found[len(screen) :]) == screen


def test_a_picture_for_pages_is_that_of_paper_where_no_page_is() -> None:
    for use, grey in asdict(GREYS["paper"]).items():
        assert getattr(GREYS["page"], use) == f"var(--chart-{use}, {grey})"


def test_a_browser_keeps_styles_and_asks_whether_they_are_the_same(client: TestClient) -> None:
    first = client.get("/static/app.css")
    assert first.headers["cache-control"] == "no-cache"
    again = client.get("/static/app.css", headers={"if-none-match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    assert again.headers["cache-control"] == "no-cache"
