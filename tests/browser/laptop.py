"""The laptop: the server as people start it, a process of its own with a library of its own."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from urllib.error import URLError

from evencast import tables
from evencast.store.library import Library

ROOT = Path(__file__).resolve().parents[2]
START_S = 60.0


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as opened:
        opened.bind(("127.0.0.1", 0))
        return int(opened.getsockname()[1])


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
