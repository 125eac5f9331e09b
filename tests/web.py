"""The app to test on: a library with the demo's job in it, the person at the laptop, the crew."""

from __future__ import annotations

import contextlib
import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
from fastapi import FastAPI
from starlette.testclient import TestClient

from evencast import tables
from evencast.store.library import Library
from evencast.store.library.crew import Role
from evencast.store.library.library import utc_now
from evencast.web.app import create_app
from evencast.web.desk import Desk
from evencast.web.door import COOKIE, Asking, Door
from evencast.web.lockout import Lockout

HOST = "192.168.7.1:8765"
"""As the crew calls the laptop."""
PHONE = ("192.168.7.22", 50_000)
LAPTOP = ("127.0.0.1", 50_000)
BROWSER = {"user-agent": "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0) Safari/604.1"}


def filled(place: Path) -> Library:
    """A library with the demo's job."""
    library = Library.open(place)
    bundle = library.new_bundle("bindery")
    documents = {name: text.encode() for name, text in tables.demo_documents().items()}
    library.import_files(bundle, documents, by="Ada")
    return library


class Crewed:
    """The app with its door open."""

    def __init__(self, library: Library, *, lockout: Lockout | None = None) -> None:
        self.desk = Desk(library)
        self.door = Door(
            library.crew,
            address=f"http://{HOST}",
            clock=utc_now,
            ended=self.desk.live.end,
            lockout=lockout,
        )
        hosts = [HOST, "127.0.0.1:8765", "localhost:8765"]
        self.app: FastAPI = create_app(self.desk, hosts=hosts, door=self.door)

    def close(self) -> None:
        self.desk.close()

    def phone(self, role: Role | None = None, name: str = "Ben") -> TestClient:
        """A browser on a phone, in with that role, or not in."""
        client = TestClient(
            self.app, f"http://{HOST}", client=PHONE, headers=BROWSER, follow_redirects=False
        )
        if role is not None:
            code = self.door.codes[role]
            asking = Asking(name=name, code="", secret=code.secret, device="phone", address="a")
            client.cookies.set(COOKIE, self.door.join(asking)[1], domain=HOST.split(":")[0])
        return client

    def laptop(self) -> TestClient:
        """A browser on the laptop itself."""
        return TestClient(
            self.app,
            "http://localhost:8765",
            client=LAPTOP,
            headers=BROWSER,
            follow_redirects=False,
        )


def token_in(client: TestClient, path: str = "/crew") -> str:
    """The form token of whoever looks at a page."""
    page: str = client.get(path).text
    before = 'name="form_token" value="'
    return page.partition(before)[2].partition('"')[0]


@contextlib.contextmanager
def served(place: Path, *options: str) -> Iterator[dict[str, Any]]:
    """The real server as a process of its own; what it says once it listens, and its process."""
    command = [sys.executable, "-m", "evencast", "serve", "--json", "--port", "0", *options]
    settings = os.environ | {"EVENCAST_LIBRARY": str(place), "XDG_STATE_HOME": str(place / "state")}
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=settings)
    assert process.stdout is not None
    try:
        said = ""
        for line in process.stdout:
            said += line
            if line == "}\n":
                break
        yield json.loads(said) | {"process": process}
    finally:
        process.terminate()
        process.wait(30)
        process.stdout.close()


class Listener:
    """Reads /live until it is told of something."""

    def __init__(self, client: httpx.Client) -> None:
        self._stream = client.stream("GET", "/live", timeout=20.0)
        self._lines = self._stream.__enter__().iter_lines()

    def until(self, event: str) -> tuple[dict[str, Any], float]:
        """The next event of that name, and when it came, by the clock of this process."""
        for line in self._lines:
            if line == f"event: {event}":
                return json.loads(next(self._lines).removeprefix("data: ")), time.monotonic()
        raise AssertionError(f"the events ended before {event}")

    def to_the_end(self) -> None:
        """Read until the server ends it; on a busy machine the connection may be closed before the
        last line, which a page takes for the same."""
        with contextlib.suppress(httpx.RemoteProtocolError):
            for _ in self._lines:
                pass

    def close(self) -> None:
        self._stream.__exit__(None, None, None)
