"""Whatever is sent to the app as a file: no 500, no traceback, no file outside the library."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.laws.fuzz.uploads import hostile, samples, spoilt
from tests.web import Crewed, filled, token_in

FEW, MANY = 60, 3000


@pytest.fixture
def sender(tmp_path: Path) -> Iterator[Sender]:
    with filled(tmp_path / "library") as library:
        crewed = Crewed(library)
        yield Sender(crewed, tmp_path)
        crewed.close()


class Sender:
    """A phone that sends files, and looks at everything it gets back."""

    def __init__(self, crewed: Crewed, around: Path) -> None:
        self.crewed, self._around = crewed, around
        self.client: TestClient = crewed.phone("edit", "Eve")
        self._form = {"form_token": token_in(self.client)}
        self._plan = crewed.desk.library.documents(kind="plan")[0].id
        self.statuses: Counter[int] = Counter()

    def send(self, name: str, content: bytes) -> str:
        """To the bundles, and to a light of the plan; what was said, in one text."""
        said = self.bring(name, content)
        if self.statuses.total() % 5 == 0:
            head = self.crewed.desk.library.documents(kind="plan")
            plan = next(each for each in head if each.id == self._plan)
            fields = {"based_on": str(plan.head.number), "light": plan.holds[0]}
            said += self._post(f"/plan/{self._plan}/file", "content", name, content, fields)
        return said

    def bring(self, name: str, content: bytes) -> str:
        """To the bundles alone."""
        into = {"name": f"sent {self.statuses.total()}"}
        return self._post("/import", "files", name, content, into)

    def look(self) -> None:
        """At every document that came in, as whoever opens its page does."""
        for each in self.crewed.desk.library.documents():
            paths = [f"/document/{each.id}/file"]
            paths += [f"/{each.kind}/{each.id}"] if each.kind in ("plan", "kit") else []
            for path in paths:
                answer = self.client.get(path)
                assert answer.status_code < 500, (path, each.name)
                assert b"Traceback" not in answer.content
            kept = self.client.get(paths[0])
            assert kept.headers["content-disposition"].startswith("attachment")
            assert "sandbox" in kept.headers["content-security-policy"]

    def outside(self) -> list[str]:
        """Files that are where none may be."""
        own = self._around / "library"
        return [str(each) for each in self._around.rglob("*") if not each.is_relative_to(own)]

    def _post(self, path: str, field: str, name: str, content: bytes, form: dict[str, str]) -> str:
        files = {field: (name or "x", content)}
        answer = self.client.post(path, data=self._form | form, files=files)
        self.statuses[answer.status_code] += 1
        assert answer.status_code < 500, (path, name, answer.text)
        for told in ("Traceback", "root:x:", 'File "', str(self._around)):
            assert told not in answer.text, (path, name, told)
        return str(answer.text)


def test_what_is_sent_on_purpose(sender: Sender) -> None:
    """Names that lead elsewhere, archives that unpack to too much, documents that run."""
    before = set(Path("/tmp").glob("*escaped*"))
    said = {name: sender.send(name, content) for name, content in hostile()}
    assert sender.outside() == []
    assert set(Path("/tmp").glob("*escaped*")) == before
    for name in (
        "bomb.zip",
        "many.zip",
        "bomb.spdx",
        "outside.spdx",
        "page.png",
        "huge.png",
        "empty.zip",
        "empty.png",
        "bytes.toml",
    ):
        assert 'class="failure"' in said[name], name
    held = {each.name for each in sender.crewed.desk.library.documents()}
    assert not {each for each in held if ".." in each or each.startswith("/") or "\\" in each}
    assert "bomb.spdx" not in held
    sender.look()


def _run(sender: Sender, count: int) -> None:
    sound = samples()
    for case in range(count):
        sender.send(*spoilt(case, sound))
    sender.look()
    assert sender.outside() == []
    assert sender.statuses[200] > 0, "nothing was taken: the corpus tries nothing"
    assert sender.statuses[400] + sender.statuses[422] > 0, "nothing was refused"


def test_sound_files_are_taken(sender: Sender) -> None:
    for ending, contents in samples().items():
        for number, content in enumerate(contents):
            assert 'class="failure"' not in sender.bring(f"sound-{number}{ending}", content), ending


def test_spoiled_files(sender: Sender) -> None:
    """A few of each kind."""
    _run(sender, FEW)


@pytest.mark.long
def test_spoiled_files_at_length(sender: Sender) -> None:
    _run(sender, MANY)


def test_a_link_out_of_the_library_is_not_followed(sender: Sender, tmp_path: Path) -> None:
    """One that somebody put into a checkout by hand."""
    if os.name == "nt":
        pytest.skip("makes links")
    desk = sender.crewed.desk
    secret = tmp_path / "library" / "secret.toml"
    secret.write_text('name = "told"\n')
    plan = desk.library.documents(kind="plan")[0]
    folder = desk.open(plan.id).path.parent
    (folder / "kit.toml").unlink()
    (folder / "kit.toml").symlink_to(secret)
    answer = sender.client.get(f"/plan/{plan.id}.json")
    assert answer.status_code == 422
    assert "leads outside the bundle" in answer.text
    assert "told" not in answer.text
