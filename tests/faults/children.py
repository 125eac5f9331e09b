"""Starting children that are killed, and holding the library against what they were told."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

from evencast.store.library import Library

ROOT = Path(__file__).resolve().parents[2]


class Nursery:
    """A process that starts children."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        paths = os.pathsep.join([str(ROOT / "src"), str(ROOT)])
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.faults.child"],
            cwd=ROOT,
            env=os.environ | {"PYTHONPATH": paths},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        self._number = 0

    def child(self, deed: str, *arguments: str) -> Child:
        """A child that does that deed."""
        self._number += 1
        said = self._folder / f"said-{self._number}"
        said.touch()
        return Child(self, int(self.ask(deed, str(said), *arguments)), said)

    def ask(self, *words: str) -> str:
        """One line to it, and its answer."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write("\t".join(words) + "\n")
        self._process.stdin.flush()
        return self._process.stdout.readline()

    def close(self) -> None:
        """End it."""
        self._process.communicate()


@dataclass
class Child:
    """A process that was started."""

    nursery: Nursery
    pid: int
    said: Path

    def lines(self) -> list[str]:
        """What it has said so far; a last line without an end was not said."""
        lines = self.said.read_text("utf-8").splitlines(keepends=True)
        return [line.rstrip("\n") for line in lines if line.endswith("\n")]

    def wait_for_lines(self, least: int) -> None:
        """Wait until it has said so many lines."""
        end = time.monotonic() + 120
        while len(self.lines()) < least:
            assert time.monotonic() < end, "the child says too little"
            time.sleep(0.002)

    def kill(self) -> None:
        """End it at once, with no chance to do anything about it."""
        os.kill(self.pid, signal.SIGKILL)
        assert self.wait() == -signal.SIGKILL

    def wait(self) -> int:
        """How it ended: 0, or minus the signal."""
        return int(self.nursery.ask("wait", str(self.pid)))


@dataclass
class Told:
    """What children were told is saved.

    saved   : bytes begin with this, by bundle, name and number
    bundles : in the order in which they were made
    backups : how many
    """

    saved: dict[tuple[str, str, int], str] = field(default_factory=dict)
    bundles: list[str] = field(default_factory=list)
    backups: int = 0

    def take(self, mark: str, lines: list[str]) -> None:
        """What one child said."""
        for line in lines:
            first, _, rest = line.partition(" ")
            if first == "bundle":
                self.bundles.append(rest)
            elif first == "backup":
                self.backups += 1
            elif first != "refused":
                number, _, content = rest.partition(" ")
                self.saved[mark, first, int(number)] = content

    def check(self, library: Library) -> None:
        """Everything that was told is there, byte for byte, and the library is whole."""
        assert set(self.bundles) <= {each.name for each in library.bundles()}
        for mark in {each[0] for each in self.saved}:
            bundle = library.bundle(mark)
            for each in library.documents(bundle):
                for record in library.history(each):
                    told = self.saved.pop((mark, each.name, record.number), None)
                    content = library.read(each, record.number).content.decode()
                    if told is not None:
                        assert content == told * (len(content) // len(told)), record
        assert self.saved == {}
        checked = library.check()
        assert (checked.faults, checked.mended) == ((), ())


def killed_at_random(
    nursery: Nursery, place: str, *, times: int, seed: int, most_lines: int, at_once: int = 1
) -> tuple[Told, int]:
    """Children that save without end, killed at a random moment some lines after they began; the
    library is opened and looked through after each. What they were told, and how many saves.

    most_lines : said by each before it is killed; the moment after that is random too
    """
    draws = random.Random(seed)
    saves = 0
    told = Told()
    for number in range(times):
        marks = [f"run {number}, child {each}" for each in range(at_once)]
        children = [nursery.child("save_for_ever", place, mark) for mark in marks]
        for child in children:
            child.wait_for_lines(draws.randint(1, most_lines))
        time.sleep(draws.uniform(0.0, 0.04))
        for child, mark in zip(children, marks, strict=True):
            child.kill()
            told.take(mark, child.lines())
        saves += len(told.saved)
        with Library.open(place) as library:
            told.check(library)
    return told, saves
