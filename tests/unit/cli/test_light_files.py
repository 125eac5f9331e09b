"""Photometric and fixture files where a person names them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.gdtf_files import archive, beam, description, whites
from tests.photometric_files import cosine, lm63
from tests.unit.cli.calling import run


def test_a_photometric_file_gives_the_candelas(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A cosine emitter of 9000 cd at 3 m: 1000 lx."""
    monkeypatch.chdir(tmp_path)
    Path("lamp.ies").write_text(lm63(cosine(9000.0)), "utf-8")
    told = run("expose", "LED-B3 3m", "--candela", "lamp.ies", "--json").answer
    assert told["candela"] == [9000.0, 9000.0]
    assert told["bare_lux"] == pytest.approx([1000.0, 1000.0], abs=0.1)
    assert str(told["known_by"]).startswith("lamp.ies (IES LM-63")


def test_a_photometric_file_that_is_none_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("lamp.ies").write_text("watts 650", "utf-8")
    told = run("expose", "LED-B3 3m", "--candela", "lamp.ies", "--json").error
    assert told == {
        "what": "has no line TILT=NONE or TILT=INCLUDE: is no photometric file after IES LM-63",
        "where": "lamp.ies",
        "remedy": "Give a file in IES LM-63 (.ies).",
    }


def test_a_fixture_file_is_a_light(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its emitter's spectrum is measured, so quality is told and nothing is assumed."""
    monkeypatch.chdir(tmp_path)
    body = beam("lens", EmitterSpectrum="cool", BeamAngle=30, LuminousFlux=4000)
    Path("panel.gdtf").write_bytes(archive(description(body=body, emitters=whites())))
    told = run("light", "panel.gdtf", "--json").answer
    assert told["state"] == "ok"
    assert told["assumed"] is False
    assert told["cct_k"] == pytest.approx(6500, abs=2)
    assert isinstance(told["ra"], float)
