"""The laptop: the server as people start it, a process of its own with a library of its own."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
import tomllib
import urllib.parse
import urllib.request
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.error import URLError

from evencast import tables
from evencast.store.library import Library
from evencast.web.live import LOOK_EVERY_S

ROOT = Path(__file__).resolve().parents[2]
START_S = 60.0
WAIT_S = 20.0


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as opened:
        opened.bind(("127.0.0.1", 0))
        return int(opened.getsockname()[1])


@dataclass(frozen=True)
class Job:
    """A plan in a running library, as it is saved."""

    laptop: str
    number: int

    @property
    def path(self) -> str:
        """Of its page."""
        return f"/plan/{self.number}"

    @property
    def text(self) -> str:
        """Its document."""
        return self._get(f"/document/{self.number}/file").decode()

    @property
    def toml(self) -> dict[str, Any]:
        """The same, read."""
        return tomllib.loads(self.text)

    def light(self, name: str) -> dict[str, Any]:
        """One of its lights."""
        return next(each for each in self.toml["light"] if each["name"] == name)

    def hangs(self, name: str) -> dict[str, Any]:
        """What its first set-up says of a light; nothing where there is none."""
        setups = self.toml.get("setup") or [{}]
        return next((each for each in setups[0].get("light", []) if each["name"] == name), {})

    @property
    def notes(self) -> list[str]:
        """What was done to it, the newest first."""
        found = json.loads(self._get(f"{self.path}/history.json"))
        return [each["note"] for each in found["revisions"]]

    def change_elsewhere(self) -> int:
        """Another light like its first, by a program at the laptop; number of the revision."""
        return self._save(f"{self.path}/duplicate", {"light": self.toml["light"][0]["name"]})

    def count_elsewhere(self, kit: int, name: str) -> int:
        """One sheet more of a filter, likewise."""
        return self._save(f"/kit/{kit}/stock", {"filter": name, "place": "0", "step": "1"})

    def _save(self, path: str, said: dict[str, str]) -> int:
        now = json.loads(self._get(f"{path.rpartition('/')[0]}.json"))
        request = urllib.request.Request(
            self.laptop + path,
            data=urllib.parse.urlencode({"based_on": now["revision"], **said}).encode(),
            headers={"Accept": "application/json"},
        )
        with urllib.request.urlopen(request, timeout=20) as answer:
            return int(json.loads(answer.read())["revision"])

    def until(self, done: Callable[[], Any]) -> None:
        """Wait until something is so."""
        end = time.monotonic() + WAIT_S
        while not done():
            assert time.monotonic() < end, self.text
            time.sleep(0.05)

    def _get(self, path: str) -> bytes:
        with urllib.request.urlopen(self.laptop + path, timeout=10) as reply:
            found: bytes = reply.read()
            return found


class Laptop:
    """A server that is started, pulled from the wall, and started again on the same library."""

    def __init__(self, folder: Path, *arguments: str) -> None:
        """arguments : of `serve`, beside its port"""
        self.folder = folder
        self.port = free_port()
        self._arguments = arguments
        self._process: subprocess.Popen[str] | None = None

    @property
    def address(self) -> str:
        """Of its first page, without the slash."""
        return f"http://127.0.0.1:{self.port}"

    @property
    def library(self) -> Path:
        """The folder of its library."""
        return self.folder / "library"

    def fill_with_the_demo(self) -> None:
        """The invented job that comes with the program; before the start."""
        with Library.open(str(self.library)) as library:
            documents = {name: text.encode() for name, text in tables.demo_documents().items()}
            library.import_files(library.new_bundle("demo"), documents, by="test")

    def start(self) -> None:
        """Start it and wait until it answers."""
        self.folder.mkdir(parents=True, exist_ok=True)
        own = {
            name: str(self.folder / name) for name in ("HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME")
        }
        paths = os.pathsep.join([str(ROOT / "src"), str(ROOT)])
        with (self.folder / "said").open("a") as said:
            self._process = subprocess.Popen(
                [
                    sys.executable,
                    "-m",
                    "evencast",
                    "serve",
                    f"--port={self.port}",
                    *self._arguments,
                ],
                env=os.environ | own | {"EVENCAST_LIBRARY": str(self.library), "PYTHONPATH": paths},
                stdin=subprocess.DEVNULL,
                stdout=said,
                stderr=said,
                text=True,
                start_new_session=True,
            )
        self._wait_until_it_answers()

    def pull_the_plug(self) -> None:
        """End it and its workers at once, with no chance to do anything about it."""
        assert self._process is not None
        os.killpg(self._process.pid, signal.SIGKILL)
        self._process.wait()
        self._process = None

    def stop(self) -> None:
        """End it as Ctrl-C does; it must end by itself and without a complaint."""
        if self._process is None:
            return
        self._process.send_signal(signal.SIGINT)
        try:
            self._process.wait(15)
        except subprocess.TimeoutExpired:
            self.pull_the_plug()
            raise
        finally:
            self._process = None
        assert "Traceback" not in self.said(), self.said()

    def told(self) -> dict[str, Any]:
        """What it told once it listened; it was started with --json."""
        found, _ = json.JSONDecoder().raw_decode(self.said())
        assert isinstance(found, dict)
        return found

    @property
    def plan(self) -> str:
        """Path of its first plan's page."""
        with urllib.request.urlopen(f"{self.address}/jobs.json", timeout=5) as reply:
            return f"/plan/{json.load(reply)['plans'][0]['number']}"

    def new_job(self) -> Job:
        """Another copy of the demo's job, in a library that runs."""
        with urllib.request.urlopen(f"{self.address}/jobs.json", timeout=5) as reply:
            before = {each["number"] for each in json.load(reply)["plans"]}
        urllib.request.urlopen(f"{self.address}/demo", b"", timeout=20).close()
        with urllib.request.urlopen(f"{self.address}/jobs.json", timeout=5) as reply:
            after = {each["number"] for each in json.load(reply)["plans"]}
        time.sleep(2 * LOOK_EVERY_S)  # pages that are opened later are not told of it
        return Job(self.address, *(after - before))

    def said(self) -> str:
        """All that it wrote."""
        return (self.folder / "said").read_text("utf-8")

    def _wait_until_it_answers(self) -> None:
        assert self._process is not None
        end = time.monotonic() + START_S
        while True:
            try:
                with urllib.request.urlopen(f"{self.address}/jobs.json", timeout=5):
                    return
            except (URLError, OSError):
                assert self._process.poll() is None, self.said()
                assert time.monotonic() < end, self.said()
                time.sleep(0.05)
