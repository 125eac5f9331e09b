"""A device that somebody holds: a page of a browser, watched for everything that goes wrong in it.

Taps are counted, so that a test can hold a journey to so many.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal
from urllib.parse import urlsplit

from playwright.sync_api import (
    Browser,
    ConsoleMessage,
    Locator,
    Page,
    Response,
    expect,
)

Kind = Literal["desktop", "phone"]
Scheme = Literal["dark", "light"]

SIZES: dict[Kind, tuple[int, int]] = {"desktop": (1280, 800), "phone": (390, 844)}
WAIT_MS = 15_000

# A refusal by policy is told by the page itself; the console's words differ between versions.
TELLS_OF_THE_POLICY = """
addEventListener("securitypolicyviolation", (event) =>
  console.error(`refused by the policy: ${event.violatedDirective} ${event.blockedURI}`));
"""


@dataclass
class Device:
    """One browser window, or one phone.

    wrongs : what the console, the scripts and the server complained of
    taps   : fingers on the glass, or clicks
    """

    page: Page
    kind: Kind
    address: str
    wrongs: list[str] = field(default_factory=list)
    taps: int = 0
    _is_away: bool = False

    def __post_init__(self) -> None:
        """Begin to watch."""
        self.page.set_default_timeout(WAIT_MS)
        self.page.on("console", self._console)
        self.page.on("pageerror", lambda error: self.wrongs.append(f"script: {error}"))
        self.page.on("response", self._response)

    def go(self, path: str) -> None:
        """Open a page by its address."""
        self.page.goto(self.address + path)

    @property
    def path(self) -> str:
        """Where it is."""
        found = urlsplit(self.page.url)
        return found.path + (f"?{found.query}" if found.query else "")

    def tap(self, what: Locator) -> None:
        """One tap on the phone, one click at the desk."""
        self.taps += 1
        if self.kind == "phone":
            what.tap()
        else:
            what.click()

    @contextmanager
    def at_most(self, taps: int) -> Iterator[None]:
        """What is done within takes no more taps than that."""
        before = self.taps
        yield
        took = self.taps - before
        assert took <= taps, f"{took} taps where {taps} are allowed"

    def open_kit(self) -> Locator:
        """From a plan to its kit; the first filter that is counted there."""
        self.tap(self.page.get_by_role("link", name="Kit", exact=True))
        return self.page.locator("#filters [data-row]", has=self.page.locator(".count")).first

    @contextmanager
    def server_away(self) -> Iterator[None]:
        """What the browser says of a server that does not answer is no wrong within."""
        self._is_away = True
        yield
        self._is_away = False

    def sees(self, what: str, *, within: str = "main") -> None:
        """Some text is on the page, or comes soon."""
        expect(self.page.locator(within).first).to_contain_text(what, timeout=WAIT_MS)

    def overflow(self) -> int:
        """By how many pixels the page is wider than the screen."""
        wide: int = self.page.evaluate(
            "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        return wide

    def picture(self, path: Path) -> None:
        """The whole page, to be looked at."""
        path.parent.mkdir(parents=True, exist_ok=True)
        self.page.screenshot(path=path, full_page=True)

    def _console(self, message: ConsoleMessage) -> None:
        if message.type not in ("error", "warning"):
            return
        if self._is_away and ("net::ERR_" in message.text or message.text.startswith("htmx:")):
            return
        if "status of 4" in message.text:  # a refusal is an answer; `_response` looks at them
            return
        self.wrongs.append(f"console at {self.path}: {message.text}")

    def _response(self, response: Response) -> None:
        if response.status >= 500:
            self.wrongs.append(f"{response.status} for {response.request.method} {response.url}")


def device(browser: Browser, address: str, kind: Kind, *, scheme: Scheme = "dark") -> Device:
    """A fresh one, with no cookies and nothing kept."""
    wide, high = SIZES[kind]
    context = browser.new_context(
        viewport={"width": wide, "height": high},
        has_touch=kind == "phone",
        is_mobile=kind == "phone",
        device_scale_factor=2 if kind == "phone" else 1,
        color_scheme=scheme,
        reduced_motion="reduce",
        locale="en-GB",
        timezone_id="Europe/Berlin",
    )
    context.add_init_script(TELLS_OF_THE_POLICY)
    return Device(context.new_page(), kind, address)
