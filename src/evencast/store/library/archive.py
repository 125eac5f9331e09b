"""The archive of a library: every revision with its digest, in a zip that can be read by hand.

`manifest.json` lists bundles, documents and revisions; each content is one member, named by
where it was first saved. The comment of the zip is the digest of the manifest, so a single
changed bit shows. It is the same whatever the database is.
"""

from __future__ import annotations

import errno
import json
import struct
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path, PurePosixPath
from typing import IO, Any

import sqlalchemy as sa

from evencast.errors import EvencastError
from evencast.store.library import carrying, schema, shelf
from evencast.store.library.names import bundle_name, document_name, folded

FORMAT = 1
MANIFEST = "manifest.json"
MOST_MANIFEST_BYTES = 512 * 1024 * 1024
_LATEST = (1 << 31) - 1


@dataclass(frozen=True, slots=True)
class Manifest:
    """What an archive holds.

    made_at     : by the clock of the machine
    after       : number of the last change before those it holds; 0 for a whole library
    last_change : number of the last change it holds
    bundles, documents, revisions : rows of these tables
    members     : name of the member for each digest
    sizes       : bytes of each digest
    """

    made_at: datetime
    after: int
    last_change: int
    bundles: list[dict[str, Any]]
    documents: list[dict[str, Any]]
    revisions: list[dict[str, Any]]
    members: dict[str, str]
    sizes: dict[str, int]


def write(file: IO[bytes], connection: sa.Connection, *, at: datetime, after: int = 0) -> Manifest:
    """What the library holds, or what changed after a change, into an open file."""
    manifest = _manifest(connection, at=at, after=after)
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for sha256, member in manifest.members.items():
            content = shelf.content(connection, sha256)
            if content is None:
                raise EvencastError(
                    "is damaged in the library: its bytes are not those that were saved",
                    where=member,
                    remedy="Restore the last good backup: `evencast library restore`.",
                )
            archive.writestr(carrying.member_named(member), content)
        text = json.dumps(_as_json(manifest), ensure_ascii=False, indent=1).encode("utf-8")
        archive.writestr(carrying.member_named(MANIFEST), text)
        archive.comment = shelf.digest(text).encode("ascii")
    return manifest


def _manifest(connection: sa.Connection, *, at: datetime, after: int) -> Manifest:
    revisions = _rows(connection, schema.revision, schema.revision.c.change > after)
    wanted = {row["document_id"] for row in revisions}
    documents = [row for row in _rows(connection, schema.document) if row["id"] in wanted]
    within = {row["bundle_id"] for row in documents}
    bundles = [
        row for row in _rows(connection, schema.bundle) if row["id"] in within or row["id"] > after
    ]
    folders = {row["id"]: row["name"] for row in bundles}
    ways = {row["id"]: f"{folders[row['bundle_id']]}/{row['name']}" for row in documents}
    members: dict[str, str] = {}
    for row in revisions:
        if row["sha256"] is not None:
            way = ways[row["document_id"]]
            members.setdefault(
                row["sha256"], f"{way}/{row['number']:06}{PurePosixPath(way).suffix}"
            )
    return Manifest(
        made_at=at,
        after=after,
        last_change=shelf.last_change(connection),
        bundles=bundles,
        documents=documents,
        revisions=revisions,
        members=members,
        sizes=_sizes(connection, set(members)),
    )


def _rows(
    connection: sa.Connection, table: sa.Table, where: sa.ColumnElement[bool] | None = None
) -> list[dict[str, Any]]:
    query = sa.select(table).order_by(next(iter(table.primary_key)))
    query = query if where is None else query.where(where)
    return [dict(row) for row in connection.execute(query).mappings()]


def _sizes(connection: sa.Connection, wanted: set[str]) -> dict[str, int]:
    query = sa.select(schema.content.c.sha256, schema.content.c.size_bytes)
    if len(wanted) <= 100:
        query = query.where(schema.content.c.sha256.in_(wanted))
    return {row[0]: row[1] for row in connection.execute(query) if row[0] in wanted}


def _as_json(manifest: Manifest) -> dict[str, Any]:
    contents = [
        {"sha256": sha256, "size_bytes": manifest.sizes[sha256], "member": member}
        for sha256, member in manifest.members.items()
    ]
    return {
        "format": FORMAT,
        "made_at": manifest.made_at.isoformat(),
        "after": manifest.after,
        "last_change": manifest.last_change,
        "bundles": manifest.bundles,
        "documents": manifest.documents,
        "revisions": manifest.revisions,
        "contents": contents,
    }


class Archive:
    """An archive open for reading.

    path     : where it is
    manifest : checked
    """

    def __init__(self, path: Path, file: zipfile.ZipFile) -> None:
        self.path = path
        self._file = file
        self.manifest = self._read_manifest()

    def content(self, sha256: str) -> bytes:
        """The bytes of that digest, checked; read no further than they may be long."""
        size = self.manifest.sizes[sha256]
        with self._file.open(self.manifest.members[sha256]) as member:
            found = member.read(size + 1)
        if len(found) != size or shelf.digest(found) != sha256:
            raise _broken(self.path, f"{self.manifest.members[sha256]} is not what was saved")
        return found

    def _read_manifest(self) -> Manifest:
        with self._file.open(MANIFEST) as member:
            text = member.read(MOST_MANIFEST_BYTES + 1)
        if shelf.digest(text).encode("ascii") != self._file.comment:
            raise _broken(self.path, "its list of contents is not the one that was written")
        return _checked(json.loads(text), self.path)


@contextmanager
def opened(path: Path) -> Iterator[Archive]:
    """An archive, its list of contents checked.

    Raises  EvencastError where there is none, or what is read of it is not what was written
    """
    try:
        with zipfile.ZipFile(path) as file:
            yield Archive(path, file)
    except FileNotFoundError:
        raise EvencastError(
            "there is no such file",
            where=str(path),
            remedy="`evencast library check` names the backups that are there.",
        ) from None
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as error:
        raise _broken(path, "it is no archive, or one that is cut short") from error
    except OSError as error:
        if error.errno in (None, errno.EINVAL):  # leads before its own beginning, or unpacks badly
            raise _broken(path, "it leads nowhere") from error
        raise
    except (LookupError, TypeError, ValueError, RecursionError, struct.error) as error:
        raise _broken(path, "its list of contents does not hold what it must") from error


def check(path: Path) -> Manifest:
    """The manifest of an archive of which every byte was read and is as it was written.

    Raises  as `opened`
    """
    with opened(path) as archive:
        for sha256 in archive.manifest.members:
            archive.content(sha256)
        return archive.manifest


def _checked(data: dict[str, Any], path: Path) -> Manifest:
    if data["format"] != FORMAT:
        raise EvencastError(
            f"is a backup of format {data['format']}; this program reads format {FORMAT}",
            where=str(path),
            remedy="Update evencast, and leave the file as it is.",
        )
    contents = data["contents"]
    manifest = Manifest(
        made_at=datetime.fromisoformat(data["made_at"]),
        after=_whole(data["after"]),
        last_change=_whole(data["last_change"]),
        bundles=[_bundle(row) for row in data["bundles"]],
        documents=[_document(row) for row in data["documents"]],
        revisions=[_revision(row) for row in data["revisions"]],
        members={str(row["sha256"]): str(row["member"]) for row in contents},
        sizes={str(row["sha256"]): _whole(row["size_bytes"]) for row in contents},
    )
    if {row["sha256"] for row in manifest.revisions} - {None} != set(manifest.members):
        raise _broken(path, "a revision in it lacks its bytes, or bytes their revision")
    changes = [row["change"] for row in manifest.revisions]
    changes += [row["id"] for row in manifest.bundles if row["id"] > manifest.after]
    if sorted(changes) != list(range(manifest.after + 1, manifest.last_change + 1)):
        raise _broken(path, "a change is missing in it")
    return manifest


def _bundle(row: dict[str, Any]) -> dict[str, Any]:
    name = bundle_name(row["name"])
    made_at = datetime.fromisoformat(row["made_at"]).isoformat()
    return {"id": _whole(row["id"]), "name": name, "folded": folded(name), "made_at": made_at}


def _document(row: dict[str, Any]) -> dict[str, Any]:
    return {
        "id": _whole(row["id"]),
        "bundle_id": _whole(row["bundle_id"]),
        "name": document_name(row["name"]),
    }


def _revision(row: dict[str, Any]) -> dict[str, Any]:
    sha256 = row["sha256"]
    return {
        "change": _whole(row["change"]),
        "document_id": _whole(row["document_id"]),
        "number": _whole(row["number"]),
        "sha256": None if sha256 is None else str(sha256),
        "saved_at": datetime.fromisoformat(row["saved_at"]).isoformat(),
        "saved_by": str(row["saved_by"]),
        "note": str(row["note"]),
    }


def _whole(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= _LATEST:
        raise ValueError(value)
    return value


def _broken(path: Path, what: str) -> EvencastError:
    return EvencastError(
        f"cannot be trusted: {what}",
        where=str(path),
        remedy="Take another backup: `evencast library check` names those that are there.",
    )
