"""What every document shares, on the plainest of them."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencast import tables
from evencast.handouts import typeset as setting
from evencast.handouts.typeset import Document, Paper, typeset
from tests.pages.reading import assert_accessible, pictures, sizes_mm, text_of

TRIAL = Path(__file__).with_name("trial.typ")
LONG = "n" * 300
CONTENT: dict[str, Any] = {
    "sub": "a lamp for מנורה 3 m, مصباح 650 W, 台灯",
    "facts": [["Stack", "half CTB + eighth CTB"]],
    "rows": [["key Fresnel", "98 mired cooler", "1 1/3 stop"]],
    "cautions": ["Heat: keep off."],
    "notes": ["Nothing."],
    "svg": '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 20">'
    '<rect width="90" height="20" fill="#808080"/></svg>',
}


@pytest.fixture(scope="module", autouse=True)
def trial(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """A layout of the tests' own beside what the documents share."""
    folder = tmp_path_factory.mktemp("documents")
    for each in (tables.documents_folder() / "house.typ", TRIAL):
        shutil.copy(each, folder)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(setting, "documents_folder", lambda: folder)
        setting._compiler.cache_clear()
        yield
    setting._compiler.cache_clear()


def made(
    content: dict[str, Any] = CONTENT, *, paper: Paper = "a4", title: str = "A trial"
) -> bytes:
    (pdf,) = typeset(Document("trial", title, "Ada", "2031-05-04", content, paper)).files
    return pdf


@pytest.mark.parametrize(("paper", "size_mm"), [("a4", (148.0, 210.0)), ("letter", (139.7, 215.9))])
def test_a_document_is_accessible_and_has_its_size(
    paper: Paper, size_mm: tuple[float, float]
) -> None:
    pdf = made(paper=paper)
    assert_accessible(pdf, title="A trial")
    assert sizes_mm(pdf) == [size_mm] * len(sizes_mm(pdf))


def test_the_same_document_gives_the_same_bytes() -> None:
    assert made() == made()
    document = Document("trial", "A trial", "Ada", "2031-05-04", CONTENT)
    assert typeset(document, "png").files == typeset(document, "png").files
    assert typeset(document, "svg").files == typeset(document, "svg").files


def test_its_text_can_be_searched() -> None:
    text = text_of(made(CONTENT | {"sub": "a lamp, 台灯", "notes": [LONG]}))
    for told in ("A trial", "台灯", "98 mired cooler", "1 1/3 stop", "2031-05-04"):
        assert told in text
    assert LONG in text.replace(" ", "")


def test_a_character_without_a_shape_is_told_and_keeps_no_document_from_being_made() -> None:
    printed = typeset(Document("trial", "T", "", "", CONTENT | {"sub": "🎬 take"}))
    assert "[U+1F3AC] take" in text_of(printed.files[0])
    (problem,) = printed.problems
    assert problem.message == "no font here has [U+1F3AC]: printed as code points"


def test_the_frame_is_grey() -> None:
    """A page without pictures holds no colour."""
    import io

    from PIL import Image

    (first, *_) = typeset(
        Document(
            "trial", "T", "", "", CONTENT | {"svg": CONTENT["svg"].replace("808080", "777777")}
        ),
        "png",
    ).files
    red, green, blue = Image.open(io.BytesIO(first)).convert("RGB").split()
    assert red.tobytes() == green.tobytes() == blue.tobytes()


def test_nothing_runs_off_the_page() -> None:
    """However long the names, the margins stay white."""
    rows = [[LONG, LONG[:40], "1 stop"] for _ in range(12)]
    for page in pictures(made(CONTENT | {"rows": rows, "sub": LONG, "notes": [LONG]}, title=LONG)):
        assert page[:, : page.shape[1] * 9 // 148].min() > 250
        assert page[:, -page.shape[1] * 9 // 148 :].min() > 250


@given(st.text(max_size=60))
@settings(max_examples=60)
def test_no_name_keeps_a_document_from_being_made(name: str) -> None:
    assert (
        made(CONTENT | {"sub": name, "rows": [[name, "", ""]]}, title=name or "x")[:5] == b"%PDF-"
    )
