"""Files of what was made for paper: all of it, one of them, one page as a picture."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from fastapi import APIRouter
from starlette.responses import Response

from evencast.store.library.carrying import zip_of
from evencast.store.library.kinds import Kind
from evencast.web.asked import TheDesk
from evencast.web.desk import Desk
from evencast.web.replies import file_name, file_reply


def add_files(
    router: APIRouter,
    *,
    of: Kind,
    kinds: Collection[str],
    together: str,
    refused: dict[int | str, dict[str, Any]],
) -> None:
    """The routes of files below those of their page.

    of       : the kind of document that they were made of
    kinds    : every kind of paper that there may be
    together : name of the archive that holds all of them
    refused  : what an answer may be besides
    """

    def title(desk: Desk, number: int) -> str:
        document = desk.document(number, of)
        return document.title or document.name

    @router.get("/{key}/all.zip", responses=refused, response_class=Response)
    def all_files(number: int, key: str, desk: TheDesk) -> Response:
        """Everything that is made, in one archive."""
        sets = [
            made for made in (desk.papers.made(key, kind) for kind in kinds) if made is not None
        ]
        files = {
            file.name: desk.papers.content(key, each.kind, file.name)
            for each in sets
            for file in each.files
        }
        return file_reply(zip_of(files), file_name(title(desk, number), together))

    @router.get("/{key}/{kind}/{name}", responses=refused, response_class=Response)
    def one_file(
        number: int, key: str, kind: str, name: str, desk: TheDesk, keep: bool = False
    ) -> Response:
        """One file, to be shown; or to be kept on the device."""
        content = desk.papers.content(key, kind, name)
        return file_reply(content, file_name(title(desk, number), name), inline=not keep)

    @router.get(
        "/{key}/{kind}/{name}/{page_number}.png", responses=refused, response_class=Response
    )
    def one_page(
        number: int, key: str, kind: str, name: str, page_number: int, desk: TheDesk
    ) -> Response:
        """One page as a picture, which never changes at its address."""
        content = desk.papers.page(key, kind, name, page_number)
        reply = file_reply(content, f"{page_number}.png", inline=True)
        reply.headers["cache-control"] = "private, max-age=3600, immutable"
        return reply
