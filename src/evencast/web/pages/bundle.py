"""A bundle: every document of it, those that were taken out, and what came in from elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evencast.actions.beginning import folder_for
from evencast.actions.editing.document import KIT, PLAN
from evencast.errors import EvencastError, Problem
from evencast.store.library.carrying import files_of_zip
from evencast.store.library.saving import names_of
from evencast.store.library.values import Bundle, Document
from evencast.web.desk import Desk
from evencast.web.people import Person
from evencast.web.uploads import check_uploads

SORTS = {"plan": PLAN, "kit": KIT}
PAGES = {"plan": "/plan/", "kit": "/kit/"}


@dataclass(frozen=True)
class DocumentLine:
    """One document.

    page     : path of its page; "" for one that has none
    revision : the newest
    size     : in words
    """

    number: int
    name: str
    kind: str
    title: str
    page: str
    revision: int
    size: str
    saved_at: str
    saved_by: str


@dataclass(frozen=True)
class BundlePage:
    """A bundle as it is.

    removed : documents that were taken out, and can be brought back
    """

    number: int
    name: str
    documents: list[DocumentLine]
    removed: list[DocumentLine]


def bundle_page(desk: Desk, bundle: Bundle) -> BundlePage:
    """Every document."""
    return BundlePage(
        number=bundle.id,
        name=bundle.name,
        documents=[_line(each) for each in desk.library.documents(bundle)],
        removed=[_line(each) for each in desk.library.removed(bundle)],
    )


@dataclass(frozen=True)
class ArrivedLine:
    """One document that came in.

    what     : "new", or "changed" where there was another of that name
    problems : errors of a plan or a kit, which stays as it is until they are mended
    """

    document: DocumentLine
    what: str
    problems: list[Problem]


@dataclass(frozen=True)
class ArrivedPage:
    """What came in.

    same     : how many files were there already, to the byte
    left_out : names of files that are no documents, as systems leave them in folders
    """

    number: int
    bundle: str
    lines: list[ArrivedLine]
    same: int
    left_out: list[str]


def arrive(
    desk: Desk, files: Sequence[tuple[str, bytes]], *, into: int | None, name: str, by: Person
) -> ArrivedPage:
    """Files, and what archives among them hold, as documents of a bundle.

    into : number of the bundle; None for a new one
    name : of the new one; "" for that of the archive or the folder
    Raises  EvencastError for no file, or an archive that is none; DocumentErrors with every name
            that cannot be used; nothing is imported then
    """
    found, left_out = _unpacked(files)
    given = names_of(found, where="import")  # nothing is begun for names that cannot be
    check_uploads(given, where="import")
    if into is None:
        usual = files[0][0].rpartition("/")[2].rpartition(".")[0] if len(files) == 1 else "imported"
        bundle = desk.new_bundle(folder_for(name or usual, usual="imported"))
    else:
        bundle = desk.bundle(into)
    before = {each.name for each in desk.library.documents(bundle)}
    made = desk.library.import_files(bundle, given, by=by.name)
    now = {each.name: each for each in desk.library.documents(bundle)}
    lines = [
        ArrivedLine(
            _line(now[each.name]),
            "changed" if each.name in before else "new",
            _errors(now[each.name], given.get(each.name, b"")),
        )
        for each in made
    ]
    return ArrivedPage(bundle.id, bundle.name, lines, len(given) - len(made), left_out)


def _unpacked(files: Sequence[tuple[str, bytes]]) -> tuple[dict[str, bytes], list[str]]:
    found: dict[str, bytes] = {}
    left_out: list[str] = []
    for name, content in files:
        if name.casefold().endswith(".zip"):
            inside, without = files_of_zip(content, where=name)
            left_out += without
        else:
            inside = {name: content}
        for each, text in inside.items():
            if found.setdefault(each, text) != text:
                raise EvencastError(
                    "comes twice, with different content",
                    where=each,
                    remedy="Look which is the right one, and import that alone.",
                )
    if not found:
        raise EvencastError(
            "holds no document" if files else "no file was chosen",
            where=files[0][0] if files else "import",
            remedy="Choose plans, kits, spectra, photometric files or frames; or a .zip of a "
            "folder of them.",
        )
    return found, left_out


def _errors(document: Document, content: bytes) -> list[Problem]:
    sort = SORTS.get(document.kind)
    if sort is None:
        return []
    problems = sort.problems(content.decode("utf-8-sig", "replace"))
    return [each for each in problems if each.severity == "error"]


def _line(document: Document) -> DocumentLine:
    head = document.head
    page = PAGES.get(document.kind, "")
    return DocumentLine(
        number=document.id,
        name=document.name,
        kind=document.kind,
        title=document.title,
        page=f"{page}{document.id}" if page else "",
        revision=head.number,
        size=_size(head.size_bytes),
        saved_at=head.saved_at.isoformat(timespec="seconds"),
        saved_by=head.by,
    )


def _size(count: int) -> str:
    if count < 1000:
        return f"{count} bytes"
    return f"{count / 1e3:.0f} kB" if count < 1e6 else f"{count / 1e6:.1f} MB"
