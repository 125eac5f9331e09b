"""Documents set by Typst: a layout of `data/documents` and what it says, as PDF, PNG or SVG.

Every PDF is PDF/UA-1: tagged, with language and title, set in the packaged fonts alone. The
same document gives the same bytes.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, Literal

from evencast.errors import Problem
from evencast.handouts.text import code_point, every_text, plain, printable
from evencast.quantities import listed
from evencast.tables import documents_folder, fonts_folder

if TYPE_CHECKING:  # loads the typesetter, which quick questions do not need
    from typst import Compiler

Paper = Literal["a4", "letter"]
Form = Literal["pdf", "png", "svg"]

PIXELS_PER_INCH = 144.0

UNTITLED = "untitled"
"""What a document is called whose title has nothing to show: a PDF needs a title."""


@dataclass(frozen=True, slots=True)
class Document:
    """One document.

    layout  : name of its layout, a file of `data/documents` without its ending
    title   : as shown, and as the PDF's title
    author  : the person in whose name it goes out, or ""
    date    : as year-month-day, or "" for a document without one
    content : what it says: dataclasses, lists, texts, numbers; pictures as SVG texts
    paper   : what it is cut for
    """

    layout: str
    title: str
    author: str
    date: str
    content: object
    paper: Paper = "a4"


@dataclass(frozen=True, slots=True)
class Printed:
    """A document as bytes: one PDF, or a picture for each page; and what could not be shown."""

    files: list[bytes]
    problems: list[Problem]


def typeset(document: Document, form: Form = "pdf") -> Printed:
    """The document in print.

    Characters that no packaged font has are shown as code points, with a problem; names never
    keep a document from being made.
    """
    import typst  # loads the typesetter

    missing: dict[str, None] = {}

    def fit(text: str) -> str:
        shown, lacking = printable(text)
        missing.update(dict.fromkeys(lacking))
        return shown

    said = _said(document, fit)
    try:
        files = _compiled(document, said, form)
    except typst.TypstError as error:
        if "could not be displayed" not in str(error):
            raise
        files = _compiled(document, _said(document, lambda text: fit(plain(text))), form)
    return Printed(files, _problems(document, list(missing)))


def png_of(svg: str) -> bytes:
    """A picture in SVG as PNG, one and a half pixels for each of its own, in the packaged
    fonts."""
    document = Document(layout="alone", title="", author="", date="", content={"svg": svg})
    return typeset(document, "png").files[0]


def _said(document: Document, change: Any) -> str:
    said = {
        "title": change(document.title).strip() or UNTITLED,
        "author": change(document.author).strip(),
        "date": document.date,
        "paper": document.paper,
        "content": every_text(document.content, change),
    }
    return json.dumps(said, ensure_ascii=False, allow_nan=False)


def _compiled(document: Document, said: str, form: Form) -> list[bytes]:
    pages = _compiler().compile(
        input=documents_folder() / f"{document.layout}.typ",
        format=form,
        ppi=PIXELS_PER_INCH if form == "png" else None,
        sys_inputs={"said": said},
        pdf_standards=["ua-1"] if form == "pdf" else [],
        timestamp=0,
    )
    return pages if isinstance(pages, list) else [pages or b""]


@cache
def _compiler() -> Compiler:
    """One typesetter for all documents: fonts are read once."""
    import typst

    return typst.Compiler(
        root=documents_folder(), font_paths=[fonts_folder()], ignore_system_fonts=True
    )


def _problems(document: Document, missing: list[str]) -> list[Problem]:
    if not missing:
        return []
    shown = listed([code_point(each) for each in missing[:6]])
    more = f" and {len(missing) - 6} more" if len(missing) > 6 else ""
    return [
        Problem(
            "warning",
            document.title,
            f"no font here has {shown}{more}: printed as code points",
            "Write such names in Latin, Greek, Cyrillic, Arabic, Hebrew, Chinese, Japanese or "
            "Korean letters.",
        )
    ]
