"""Files that come in and go out: to the byte, or refused in words with nothing changed."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from typing import Any

import pytest
from PIL import Image
from starlette.testclient import TestClient

from evencast.store.library.carrying import files_of_zip, zip_of
from evencast.store.library.values import Document
from evencast.tables import demo_documents
from evencast.web.app import UPLOAD_BYTES
from evencast.web.desk import Desk


def picture() -> bytes:
    """A small photograph."""
    target = io.BytesIO()
    Image.linear_gradient("L").convert("RGB").save(target, "PNG")
    return target.getvalue()


BUNDLE = {
    **{name: text.encode() for name, text in demo_documents().items()},
    "spectra/Ünï côde 夜.csv": b"wavelength_nm,transmittance\r\n400,0.5\r\n700,0.5\r\n",
    "with-mark.toml": b'\xef\xbb\xbfformat = 1\r\nname = "m"\r\n',
    "picture.png": picture(),
    "empty.txt": b"",
}


def packed(files: Mapping[str, bytes]) -> bytes:
    """An archive as any program packs one."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return target.getvalue()


def send(client: TestClient, files: Mapping[str, bytes], **fields: Any) -> Any:
    parts = [("files", (name, content)) for name, content in files.items()]
    return client.post("/import", files=parts, data=fields)


def test_archive_comes_in_and_goes_out_to_the_byte(first_client: TestClient, empty: Desk) -> None:
    reply = send(first_client, {"night job.zip": packed(BUNDLE)})
    assert reply.status_code == 200
    bundle = empty.library.bundles()[0]
    assert bundle.name == "night job"
    out = first_client.get(f"/bundle/{bundle.id}.zip")
    assert files_of_zip(out.content, where="out") == (BUNDLE, [])
    assert out.headers["content-type"] == "application/zip"
    again = first_client.get(f"/bundle/{bundle.id}.zip")
    assert again.content == out.content == zip_of(BUNDLE)


def test_archive_of_one_folder_is_that_folder(first_client: TestClient, empty: Desk) -> None:
    inside = {f"job/{name}": content for name, content in BUNDLE.items()}
    send(first_client, {"x.zip": packed({**inside, "job/.DS_Store": b"x", "__MACOSX/a": b"y"})})
    assert empty.library.export(empty.library.bundles()[0]) == BUNDLE


def test_each_document_goes_out_as_it_came(first_client: TestClient, empty: Desk) -> None:
    send(first_client, {"all.zip": packed(BUNDLE)})
    for each in empty.library.documents():
        reply = first_client.get(f"/document/{each.id}/file")
        assert reply.content == BUNDLE[each.name]
        assert reply.headers["content-disposition"].startswith("attachment;")
        assert "sandbox" in reply.headers["content-security-policy"]
        assert reply.headers["x-content-type-options"] == "nosniff"


def test_several_files_and_what_came_in_is_told(client: TestClient, desk: Desk) -> None:
    bundle = desk.library.bundles()[0]
    kit = BUNDLE["kit.toml"]
    files = {"kit.toml": kit, "plan.toml": b"name = 3\nkit = 4\n", "lamp.csv": b"x"}
    reply = send(client, files, into=bundle.id)
    assert reply.status_code == 200
    assert "2 documents new or changed, 1 there already, to the byte" in reply.text
    assert "changed, plan" in reply.text
    assert "new, spectrum" in reply.text
    assert "cannot be used until this is mended" in reply.text
    assert desk.library.export(bundle)["plan.toml"] == files["plan.toml"]
    earlier = desk.library.read(desk.library.document(bundle, "plan.toml"), 1)
    assert earlier.content == BUNDLE["plan.toml"]


@pytest.mark.parametrize(
    "name",
    [
        "../outside.toml",
        "/etc/cron.d/x",
        "a/../../b.toml",
        "con.toml",
        "a\\b.toml",
        "C:\\x.toml",
        "name\u202egnp.exe",
        "x" * 300 + ".toml",
        "a//b.toml",
        "tab\there.toml",
    ],
)
def test_names_that_lead_elsewhere_are_refused_in_words(
    first_client: TestClient, empty: Desk, name: str
) -> None:
    content = packed({"good.toml": b"format = 1\n", name: b"x"})
    reply = send(first_client, {"all.zip": content})
    assert reply.status_code in (400, 422)
    assert 'class="failure"' in reply.text
    assert "Traceback" not in reply.text
    assert empty.library.documents() == []
    assert empty.library.bundles() == []


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"PK\x03\x04 no archive",
        packed(BUNDLE)[:-40],
        packed({"big.csv": b"\x00" * 40_000_000}),
        packed({}),
        packed({".hidden": b"x"}),
    ],
    ids=["empty", "broken", "cut", "bomb", "nothing", "hidden"],
)
def test_archives_that_are_none_are_refused_in_words(
    first_client: TestClient, empty: Desk, content: bytes
) -> None:
    reply = send(first_client, {"all.zip": content})
    assert reply.status_code == 400
    assert 'class="failure"' in reply.text
    assert empty.library.documents() == []


def test_two_of_one_name_are_refused(first_client: TestClient, empty: Desk) -> None:
    parts = [("files", ("a.toml", b"x = 1\n")), ("files", ("a.toml", b"x = 2\n"))]
    reply = first_client.post("/import", files=parts)
    assert reply.status_code == 400
    assert "Comes twice" in reply.text
    assert empty.library.bundles() == []


def test_no_file_is_said(first_client: TestClient) -> None:
    assert "No file was chosen" in first_client.post("/import", data={"name": "x"}).text
    reply = send(first_client, {"a.toml": b"x = 1\n"}, into=77)
    assert reply.status_code == 400
    assert "no such bundle" in reply.text


def test_more_than_may_be_sent_is_refused_before_it_is_read(client: TestClient) -> None:
    headers = {"content-length": str(UPLOAD_BYTES + 1), "content-type": "multipart/form-data"}
    reply = client.post("/import", content=b"", headers=headers)
    assert reply.status_code == 413


def test_whoever_joined_to_look_brings_nothing_in(looker: TestClient, desk: Desk) -> None:
    reply = send(looker, {"a.toml": b"x = 1\n"})
    assert reply.status_code == 403
    assert "joined to look" in reply.text
    assert len(desk.library.documents()) == 3


def test_bundle_that_names_files_elsewhere_reads_none(
    first_client: TestClient, empty: Desk
) -> None:
    kit = b'format = 1\nname = "k"\n\n[[filter]]\nname = "f"\nrole = "correction"\n'
    for spectrum in ("../../../../etc/passwd", "/etc/passwd", "..\\secret.csv"):
        text = kit + f"spectrum = {spectrum!r}\n".encode()
        send(first_client, {"kit.toml": text}, name="k")
        made: Document = empty.library.documents(kind="kit")[-1]
        page = first_client.get(f"/kit/{made.id}")
        assert page.status_code == 200
        assert "cannot be read as it is" in page.text
        assert "root:" not in page.text
