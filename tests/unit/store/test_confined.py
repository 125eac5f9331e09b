from __future__ import annotations

import contextvars
import os
import threading
from pathlib import Path

import pytest

from evencast.actions.kit import load_kit
from evencast.actions.solve import solve
from evencast.errors import DocumentErrors, EvencastError
from evencast.store.files import confined, read_bytes, read_text, write_bytes, write_text

KIT = 'format = 1\nname = "k"\n[[filter]]\nname = "a"\nrole = "correction"\nspectrum = {}\n'
PLAN = (
    'format = 1\nname = "p"\nkit = {}\nmains_hz = 50\n[camera]\nbalance = {{ fixed_k = 4300 }}\n'
    '[[light]]\nname = "key"\nrole = "key"\nspectrum = {}\n'
)


@pytest.fixture
def bundle(tmp_path: Path) -> Path:
    """A bundle, with things beside it that are none of its business."""
    for name in ("secret.csv", "bundle-2/secret.csv", "bundle/kit.toml", "bundle/spectra/lamp.csv"):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True, parents=True)
        path.write_text(f"{name}\n")
    return tmp_path / "bundle"


def ways_out(bundle: Path) -> list[Path]:
    ways = [
        bundle / ".." / "secret.csv",
        bundle / "spectra" / ".." / ".." / "secret.csv",
        bundle.parent / "secret.csv",
        bundle.parent / "bundle-2" / "secret.csv",
        bundle.parent,
        Path("/etc/passwd"),
        bundle / ".." / "nothing.csv",
        bundle / ".." / "secret.cs",
    ]
    link, folder = bundle / "link.csv", bundle / "linked"
    link.symlink_to(bundle.parent / "secret.csv")
    folder.symlink_to(bundle.parent / "bundle-2", target_is_directory=True)
    return [*ways, link, folder / "secret.csv", folder / ".." / "secret.csv"]


@pytest.mark.skipif(os.name == "nt", reason="makes links")
def test_no_way_leads_out(bundle: Path) -> None:
    """Neither to read nor to write; and what is said does not tell what lies outside."""
    for path in ways_out(bundle):
        with confined(bundle):
            for act in (
                read_text,
                read_bytes,
                lambda path: write_bytes(path, b"x", replace=True),
                lambda path: write_text(path, "x"),
            ):
                with pytest.raises(EvencastError) as raised:
                    act(path)
                assert raised.value.what == "leads outside the bundle"
                assert "secret.csv" not in raised.value.remedy
                assert str(bundle.parent) not in str(raised.value)
    assert (bundle.parent / "secret.csv").read_text() == "secret.csv\n"


@pytest.mark.skipif(os.name == "nt", reason="makes links")
def test_what_is_inside_is_read(bundle: Path) -> None:
    """By any way that stays inside or comes back to it; also where the bundle is reached by a
    link."""
    inside = bundle / "spectra" / "lamp.csv"
    (bundle / "a.csv").symlink_to(inside)
    linked = bundle.with_name("linked")
    linked.symlink_to(bundle)
    for folder in (bundle, linked):
        with confined(folder):
            for name in ("a.csv", "spectra/lamp.csv", "spectra/../spectra/lamp.csv"):
                assert read_text(folder / name).text == "bundle/spectra/lamp.csv\n"
            write_text(folder / f"{folder.name}.toml", "new")
    with confined(bundle), pytest.raises(EvencastError):
        read_text(linked / "a.csv")


def test_it_ends_with_the_block(bundle: Path) -> None:
    """Also where that fails; blocks inside one another go back one at a time."""
    outside = bundle.parent / "secret.csv"
    with pytest.raises(ZeroDivisionError), confined(bundle):
        raise ZeroDivisionError
    assert read_text(outside).text == "secret.csv\n"
    with confined(bundle.parent):
        with confined(bundle), pytest.raises(EvencastError):
            read_text(outside)
        assert read_text(outside).text == "secret.csv\n"


def test_other_threads_are_not_confined_but_a_copied_context_is(bundle: Path) -> None:
    """Two requests at once do not meet."""
    found: list[str] = []

    def look() -> None:
        try:
            found.append(read_text(bundle.parent / "secret.csv").text)
        except EvencastError as error:
            found.append(error.what)

    with confined(bundle):
        copied = contextvars.copy_context()
        for thread in (
            threading.Thread(target=look),
            threading.Thread(target=copied.run, args=(look,)),
        ):
            thread.start()
            thread.join()
    assert found == ["secret.csv\n", "leads outside the bundle"]


@pytest.mark.parametrize("way", ["../secret.csv", "/etc/passwd", "spectra/../../secret.csv"])
def test_a_kit_cannot_name_what_is_not_its_own(bundle: Path, way: str) -> None:
    """Nor can a plan name a kit or a lamp elsewhere."""
    (bundle / "kit.toml").write_text(KIT.format(repr(way)))
    with confined(bundle), pytest.raises(DocumentErrors) as raised:
        load_kit(bundle / "kit.toml")
    assert [each.message for each in raised.value.problems] == ["leads outside the bundle"]
    for kit, lamp in ((way, "spectra/lamp.csv"), ("kit.toml", way)):
        (bundle / "plan.toml").write_text(PLAN.format(repr(kit), repr(lamp)))
        with confined(bundle), pytest.raises(DocumentErrors) as raised:
            solve(bundle / "plan.toml")
        told = [each.message for each in raised.value.problems]
        assert any("leads outside the bundle" in message for message in told), told
