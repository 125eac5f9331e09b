"""Photometric and fixture files where a person names them."""

from __future__ import annotations

import math
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


def test_a_fixture_file_gives_the_candelas(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """4000 lm in 30 and 50 degrees, at 3 m; what is assumed stands beside the number."""
    monkeypatch.chdir(tmp_path)
    body = beam("lens", EmitterSpectrum="cool", BeamAngle=30, FieldAngle=50, LuminousFlux=4000)
    Path("panel.gdtf").write_bytes(archive(description(body=body, emitters=whites())))
    told = run("expose", "panel.gdtf 3m", "--candela", "panel.gdtf", "--json").answer
    ends = [4000 / (2 * math.pi * (1 - math.cos(math.radians(each) / 2))) for each in (50, 30)]
    assert told["candela"] == pytest.approx(ends)
    assert told["bare_lux"] == pytest.approx([each / 9 for each in ends], rel=1e-5)
    assert told["known_by"] == (
        f"panel.gdtf (GDTF), {ends[0]:.0f} to {ends[1]:.0f} cd: 4000 lm; at least as if all fell "
        "evenly inside its field angle of 50 degrees, at most as if inside its beam angle of 30 "
        "degrees"
    )
    assert (
        "Read yours bare at a noted distance and focus, and give that reading instead."
        in told["notes"]
    )
    lines = run("expose", "panel.gdtf 3m", "--candela", "panel.gdtf").out.splitlines()
    assert max(map(len, lines)) <= 80


def test_a_fixture_file_without_angles_gives_no_candelas(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The error says what is missing."""
    monkeypatch.chdir(tmp_path)
    Path("panel.gdtf").write_bytes(archive(description(body=beam("lens", LuminousFlux=4000))))
    told = run("expose", "LED-B3 3m", "--candela", "panel.gdtf", "--json").error
    assert told["what"].startswith('gives 4000 lm for its beam "lens", and neither a beam angle')
    assert told["where"] == "panel.gdtf"
    narrow = beam("lens", LuminousFlux=1e7, BeamAngle=0.5)
    Path("panel.gdtf").write_bytes(archive(description(body=narrow)))
    told = run("expose", "LED-B3 3m", "--candela", "panel.gdtf", "--json").error
    assert told["what"].endswith("is beyond anything met on a set")
