"""Bundles carried in and out as folders and archives."""

from __future__ import annotations

import os
import stat
import struct
import zipfile
from io import BytesIO
from pathlib import Path

import pytest

from evencast.errors import EvencastError
from evencast.store.library import Library, carrying
from evencast.store.library.carrying import files_of_folder, files_of_zip, write_folder, zip_of
from tests.libraries import SetClock

FILES = {
    "plan.toml": b'\xef\xbb\xbfformat = 1\r\nname = "n"\r\n',
    "kit.toml": b"no end",
    "spectra/lamp 1.csv": b"wavelength_nm,power\n380,1\n",
    "spectra/deep/empty.csv": b"",
    "frames/Küche 厨房.png": bytes(range(256)) * 50,
}


def write(folder: Path, files: dict[str, bytes]) -> Path:
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    return folder


def test_a_folder_goes_in_and_comes_out_to_the_byte(library: Library, tmp_path: Path) -> None:
    """Folder, library, folder; library, archive, library."""
    files, left_out = files_of_folder(write(tmp_path / "in", FILES))
    assert (files, left_out) == (FILES, [])
    bundle = library.new_bundle("one")
    library.import_files(bundle, files, by="A")
    write_folder(library.export(bundle), tmp_path / "out")
    assert files_of_folder(tmp_path / "out") == (FILES, [])
    packed = zip_of(library.export(bundle))
    assert files_of_zip(packed, where="one.zip") == (FILES, [])
    again = library.new_bundle("two")
    library.import_files(again, files_of_zip(packed, where="one.zip")[0], by="A")
    assert library.export(again) == FILES


def test_what_systems_and_hidden_folders_hold_is_left_out_and_told(tmp_path: Path) -> None:
    """So is a link: what it leads to is not part of the folder."""
    folder = write(tmp_path / "in", {"plan.toml": b"1", "a/.DS_Store": b"", "Thumbs.db": b""})
    write(folder, {".git/config": b"x", "__MACOSX/plan.toml": b"x"})
    write(tmp_path, {"secret.csv": b"secret"})
    (folder / "link.csv").symlink_to(tmp_path / "secret.csv")
    (folder / "linked").symlink_to(tmp_path, target_is_directory=True)
    files, left_out = files_of_folder(folder)
    assert files == {"plan.toml": b"1"}
    assert left_out == [".git", "Thumbs.db", "__MACOSX", "a/.DS_Store", "link.csv", "linked"]


def test_a_folder_is_asked_for(tmp_path: Path) -> None:
    for path in (tmp_path / "nowhere", write(tmp_path, {"a.csv": b""}) / "a.csv"):
        with pytest.raises(EvencastError, match="is no folder"):
            files_of_folder(path)


def test_exporting_writes_over_nothing(tmp_path: Path) -> None:
    """Not even the first files, where only the last is there already."""
    write(tmp_path, {"spectra/z.csv": b"mine"})
    with pytest.raises(EvencastError, match="is there already"):
        write_folder({"a.csv": b"1", "spectra/z.csv": b"2"}, tmp_path)
    assert not (tmp_path / "a.csv").exists()
    assert (tmp_path / "spectra/z.csv").read_bytes() == b"mine"


def packed(members: list[tuple[str | zipfile.ZipInfo, bytes]]) -> bytes:
    target = BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members:
            archive.writestr(name, content)
    return target.getvalue()


def test_an_archive_of_one_folder_is_that_folder() -> None:
    """As laptops pack it; but an archive from here keeps its names, folder or not."""
    assert files_of_zip(packed([("b/plan.toml", b"1"), ("b/s/a.csv", b"2")]), where="") == (
        {"plan.toml": b"1", "s/a.csv": b"2"},
        [],
    )
    kept = {"b/plan.toml": b"1", "b/s/a.csv": b"2"}
    assert files_of_zip(zip_of(kept), where="") == (kept, [])
    assert files_of_zip(packed([]), where="") == ({}, [])


def test_an_archive_leaves_out_what_is_no_document() -> None:
    link = zipfile.ZipInfo("link.csv")
    link.external_attr = (stat.S_IFLNK | 0o777) << 16
    content = packed([("plan.toml", b"1"), (link, b"/etc/passwd"), ("__MACOSX/._plan.toml", b"")])
    assert files_of_zip(content, where="a.zip") == (
        {"plan.toml": b"1"},
        ["link.csv", "__MACOSX/._plan.toml"],
    )


@pytest.mark.parametrize("name", ["../up.toml", "/etc/x.toml", "C:/x.toml", "a/../../x.toml"])
def test_names_that_lead_out_of_an_archive_are_refused(library: Library, name: str) -> None:
    files, _ = files_of_zip(packed([(name, b"1"), ("b.csv", b"2")]), where="a.zip")
    with pytest.raises(EvencastError):
        library.import_files(library.new_bundle("b"), files, by="A")
    assert library.documents() == []


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"not an archive",
        packed([("a.csv", b"1" * 1000)])[:-30],
        packed([("a.csv", os.urandom(1000))])[:500] + packed([("a.csv", b"1")])[500:],
    ],
    ids=["nothing", "words", "cut short", "two in one"],
)
def test_what_is_no_archive_is_refused(content: bytes) -> None:
    with pytest.raises(EvencastError) as raised:
        files_of_zip(content, where="a.zip")
    assert raised.value.where == "a.zip"


def test_an_archive_that_is_locked_is_refused() -> None:
    content = bytearray(packed([("a.csv", b"1")]))
    for signature, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        content[content.index(signature) + offset] |= 1
    with pytest.raises(EvencastError, match="locked with a password"):
        files_of_zip(bytes(content), where="a.zip")


def test_an_archive_that_lies_about_its_size_is_read_no_further(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """It says ten bytes and unpacks to two million."""
    monkeypatch.setattr(carrying, "MOST_DOCUMENT_BYTES", 1 << 20)
    content = bytearray(packed([("a.csv", bytes(2_000_000))]))
    for signature, offset in ((b"PK\x03\x04", 22), (b"PK\x01\x02", 24)):
        struct.pack_into("<L", content, content.index(signature) + offset, 10)
    with pytest.raises(EvencastError):
        files_of_zip(bytes(content), where="a.zip")


def test_archives_have_caps(monkeypatch: pytest.MonkeyPatch) -> None:
    """How many files, how large each and all, how far above their packed size, none twice."""
    bomb = packed([("a.csv", bytes(30_000_000))])
    with pytest.raises(EvencastError, match="unpacks to more than 200 times its size"):
        files_of_zip(bomb, where="a.zip")
    many = packed([(f"{number}.csv", b"") for number in range(carrying.MOST_FILES + 1)])
    with pytest.raises(EvencastError, match="holds more than 2000 files"):
        files_of_zip(many, where="a.zip")
    monkeypatch.setattr(carrying, "MOST_DOCUMENT_BYTES", 1000)
    with pytest.raises(EvencastError, match=r"a\.zip, a\.csv: is larger than"):
        files_of_zip(packed([("a.csv", os.urandom(1001))]), where="a.zip")
    monkeypatch.setattr(carrying, "MOST_BYTES", 1500)
    with pytest.raises(EvencastError, match="in all"):
        files_of_zip(packed([(f"{n}.csv", os.urandom(900)) for n in "ab"]), where="a.zip")
    with pytest.warns(UserWarning, match="Duplicate name"):
        twice = packed([("a.csv", b"1"), ("a.csv", b"2")])
    with pytest.raises(EvencastError, match="more than once"):
        files_of_zip(twice, where="a.zip")


def test_folders_have_caps(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A large file is not even read."""
    monkeypatch.setattr(carrying, "MOST_DOCUMENT_BYTES", 1000)
    with pytest.raises(EvencastError, match=r"b\.csv: is larger than"):
        files_of_folder(write(tmp_path, {"a.csv": bytes(1000), "b.csv": bytes(1001)}))


def test_old_checkouts_go_and_their_files_with_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Those used in the last minutes stay, and so does what a kept one holds; none is half
    there."""
    monkeypatch.setattr("evencast.store.library.checkouts.KEPT", 3)
    monkeypatch.setattr("evencast.store.library.checkouts.PRUNED_EVERY", 1)
    with Library.open(tmp_path / "library", clock=SetClock()) as library:
        bundle = library.new_bundle("b")
        library.add(bundle, "same.csv", b"same", by="A")
        document = library.add(bundle, "plan.toml", b"0", by="A")
        made = [library.checkout(bundle)]
        for number in range(1, 9):
            library.save(document, b"%d" % number, based_on=number, by="A")
            made.append(library.checkout(bundle))
        assert all(each.is_dir() for each in made)
        folder = library.place.checkouts
        for path in [*made, *(folder / "contents").iterdir()]:
            os.utime(path, (path.stat().st_mtime - 3600,) * 2)
        assert library.checkout(bundle) == made[-1]
        library.save(document, b"new", based_on=9, by="A")
        newest = library.checkout(bundle)
        assert {each for each in folder.iterdir() if each.name != "contents"} >= {made[-1], newest}
        assert sum(each.is_dir() for each in made) == 2
        assert len(list((folder / "contents").iterdir())) == 4
        assert (newest / "same.csv").read_bytes() == b"same"
        first = library.bring_back(document, 1, based_on=10, by="A")
        assert (library.checkout(bundle) / "plan.toml").read_bytes() == first.content


def test_a_checkout_without_links_is_copied(
    library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on a stick that knows none."""

    def refuse(*_: object) -> None:
        raise OSError(1, "no links here")

    monkeypatch.setattr(os, "link", refuse)
    bundle = library.new_bundle("b")
    library.import_files(bundle, FILES, by="A")
    assert files_of_folder(library.checkout(bundle)) == (FILES, [])
