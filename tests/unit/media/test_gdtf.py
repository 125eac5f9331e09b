"""Fixtures in GDTF: what they say, the lights they make, and what is refused."""

from __future__ import annotations

import time
import zipfile
from io import BytesIO

import numpy as np
import pygdtf
import pytest

from evencast.colour import mired_duv, uv, xyz
from evencast.errors import EvencastError
from evencast.lights import redial
from evencast.media.fixture import light_of_fixture
from evencast.media.gdtf import Beam, Fixture, parse_gdtf
from evencast.quantities import mired
from evencast.spectra import GRID_NM, planckian
from tests.gdtf_files import archive, band, beam, description, emitter, whites

FULL = {
    "LampType": "LED",
    "LuminousFlux": 4200,
    "ColorTemperature": 5600,
    "BeamAngle": 19.5,
    "FieldAngle": 31,
    "PowerConsumption": 180,
    "BeamType": "Wash",
}
RIGHT_FILE = "Check that this is the right file; get it again if it is."


def read(xml: str | bytes) -> Fixture:
    return parse_gdtf(archive(xml), where="shed.gdtf")


def refusal(content: bytes) -> tuple[str, str, str]:
    with pytest.raises(EvencastError) as caught:
        parse_gdtf(content, where="shed.gdtf")
    return caught.value.what, caught.value.where, caught.value.remedy


def test_everything_that_a_file_says() -> None:
    """Flux, angles, colour temperature, watts, lamp; as the library reads the whole archive."""
    content = archive(description(body=beam(**FULL), emitters=whites()))
    fixture = parse_gdtf(content, where="shed.gdtf")
    assert fixture.name == "shed lamp"
    assert fixture.mode == "mode 0"
    assert fixture.beams == (Beam("lens", "LED", 4200.0, 5600.0, 19.5, 31.0, 180.0),)
    assert fixture.remarks == ()
    assert (fixture.flux_lm, fixture.beam_deg, fixture.field_deg) == (4200.0, 19.5, 31.0)
    assert (fixture.cct_k, fixture.lamp) == (5600.0, "LED")
    xml = description(body=beam(**FULL), emitters=whites()).replace("{1,0,0,0}", "0")
    library = pygdtf.FixtureType(BytesIO(archive(xml)))
    for ours, other in zip(fixture.emitters, library.emitters, strict=True):
        measured = other.measurements[0]
        assert (ours.name, ours.candela) == (other.name, measured.luminous_intensity)
        assert ours.spectrum is not None
        points = [(each.wave_length, each.energy) for each in measured.measurement_points]
        np.testing.assert_array_equal(ours.spectrum.wavelengths_nm, [each[0] for each in points])
        np.testing.assert_array_equal(ours.spectrum.values, [each[1] for each in points])


def test_what_is_left_out_stays_unknown() -> None:
    """None, and not the defaults of the format (10 000 lm, 6000 K, 25 degrees, discharge)."""
    fixture = read(description(body=beam(LuminousFlux=0, BeamAngle="")))
    assert fixture.beams == (Beam("lens", "", None, None, None, None, None),)
    assert (fixture.flux_lm, fixture.beam_deg, fixture.cct_k, fixture.lamp) == (
        None,
        None,
        None,
        "",
    )


def test_beams_are_counted_through_references() -> None:
    """Three references to a cell of two beams make six; a beam nobody refers to makes none."""
    cell = f'<Geometry Name="cell">{beam("a", **FULL)}{beam("b", **FULL)}</Geometry>'
    loose = f'<Geometry Name="loose">{beam("c", **FULL)}</Geometry>'
    body = "".join(f'<GeometryReference Name="{at}" Geometry="cell"/>' for at in range(3))
    fixture = read(description([cell, loose], body=body))
    assert [each.name for each in fixture.beams] == ["a", "b"] * 3
    assert fixture.flux_lm == 6 * 4200.0


def test_modes_and_glowing_parts_are_told() -> None:
    """The first mode is taken; what only glows throws no light on a scene."""
    other = f'<Geometry Name="other">{beam("c", **FULL)}</Geometry>'
    body = beam("a", **FULL) + beam("b", **(FULL | {"BeamType": "Glow"}))
    fixture = read(description([other], body=body, modes=("body", "other")))
    assert [each.name for each in fixture.beams] == ["a"]
    assert fixture.remarks == (
        'its modes differ, the first one taken: "mode 0"',
        "1 that only glow are left out",
    )
    assert read(description()).remarks == ("it says nothing of beams",)
    assert read(description()).flux_lm is None


def test_beams_that_differ_agree_on_nothing() -> None:
    """Flux still adds up."""
    body = beam("a", **FULL) + beam("b", **(FULL | {"BeamAngle": 40, "ColorTemperature": 3000}))
    fixture = read(description(body=body))
    assert (fixture.flux_lm, fixture.beam_deg, fixture.cct_k) == (8400.0, None, None)
    assert fixture.field_deg == 31.0


def test_a_white_emitter_that_the_beam_names() -> None:
    """Its spectrum is the light's, sample for sample."""
    fixture = read(description(body=beam(**FULL, EmitterSpectrum="cool"), emitters=whites()))
    light = light_of_fixture(fixture, where="shed.gdtf")
    np.testing.assert_allclose(
        light.power / light.power.max(), planckian(6500.0) / planckian(6500.0).max(), rtol=1e-8
    )
    assert (light.name, light.kind, light.fitting) == ("shed lamp", "phosphor LED", "fixture")
    assert not light.assumed
    assert light.spectrum is not None


def test_two_whites_make_a_panel_that_can_be_dialled() -> None:
    """Warm first; mixed to 4000 K on the line between them."""
    fixture = read(description(body=beam(**FULL), emitters=whites()))
    light = light_of_fixture(fixture, where="shed.gdtf")
    assert light.note == "its 2 emitters all at full, in proportion to their candelas"
    at_mired, _ = mired_duv(uv(np.array(light.emitters)))
    np.testing.assert_allclose(at_mired, [mired(2700.0), mired(6500.0)], atol=0.05)
    shares = xyz(planckian(np.array([2700.0, 6500.0])))[:, 1]
    expected = planckian(2700.0) * 600 / shares[0] + planckian(6500.0) * 900 / shares[1]
    np.testing.assert_allclose(light.power, expected / expected.max(), rtol=1e-6)
    dialled, _ = mired_duv(uv(redial(light, 4000.0).power))
    assert dialled == pytest.approx(250.0, abs=0.01)


def test_colours_are_mixed_at_full() -> None:
    """Red, green and blue by their candelas; narrow bands end in the dark."""
    nm = np.arange(590.0, 681.0, 5.0)
    red = np.exp(-(((nm - 635) / 15) ** 2))
    emitters = [
        emitter("red", nm, red, LuminousIntensity=100),
        emitter("green", GRID_NM, band(525, 20), LuminousIntensity=200),
        emitter("blue", GRID_NM, band(460, 12), LuminousIntensity=30),
    ]
    fixture = read(description(body=beam(**FULL), emitters=emitters))
    assert fixture.remarks == ('emitter "red" is taken as dark beyond its samples',)
    light = light_of_fixture(fixture, where="shed.gdtf")
    assert light.kind == "RGB LED"
    assert light.emitters == ()
    assert light.note == (
        "its 3 emitters all at full, in proportion to their candelas; "
        'emitter "red" is taken as dark beyond its samples'
    )
    parts = np.array([band(635, 15), band(525, 20), band(460, 12)])
    parts[0][(GRID_NM < 590) | (GRID_NM > 680)] = 0.0
    expected = (parts * (np.array([100, 200, 30]) / xyz(parts)[:, 1])[:, None]).sum(axis=0)
    np.testing.assert_allclose(light.power, expected / expected.max(), atol=1e-6)


def test_the_fullest_measurement_counts() -> None:
    """Dimmed measurements are left aside."""
    full, half = whites()[0], emitter("x", GRID_NM, band(600, 9), physical=50)
    measurement = half[half.index("<Measurement") : half.index("</Emitter>")]
    both = full.replace("<Measurement ", measurement + "<Measurement ", 1)
    fixture = read(description(emitters=[both]))
    assert fixture.emitters[0].candela == 900.0
    assert fixture.emitters[0].spectrum is not None
    np.testing.assert_allclose(fixture.emitters[0].spectrum.grid, planckian(6500.0), rtol=1e-8)


@pytest.mark.parametrize(
    ("lamp", "kind", "cct_k"), [("LED", "phosphor LED", 5600), ("Halogen", "tungsten", 3200)]
)
def test_without_spectra_its_numbers_are_what_is_known(lamp: str, kind: str, cct_k: int) -> None:
    """A light of its kind and colour temperature; an emitter without samples does not help."""
    bare = '<Emitter Name="white" Color="0.3,0.3,10"/>'
    body = beam(LampType=lamp, ColorTemperature=cct_k)
    light = light_of_fixture(read(description(body=body, emitters=[bare])), where="shed.gdtf")
    at_mired, _ = mired_duv(uv(light.power))
    assert at_mired == pytest.approx(mired(cct_k), abs=0.01)
    assert light.kind == kind
    assert light.assumed is (lamp == "LED")
    assert (light.possible is not None) is (lamp == "LED")


def test_no_light_can_be_made_of_nothing() -> None:
    """No spectra, no colour temperature."""
    with pytest.raises(EvencastError) as caught:
        light_of_fixture(read(description(body=beam(LampType="LED"))), where="shed.gdtf")
    assert (caught.value.what, caught.value.where, caught.value.remedy) == (
        "gives neither the spectra of all emitters nor one colour temperature",
        "shed.gdtf",
        'Read the light with a meter and write what it says, such as "5400K+0.002".',
    )


def test_a_discharge_lamp_needs_its_spectrum() -> None:
    """With one it is a metal halide for the cautions, and says so."""
    body = beam(LampType="Discharge", ColorTemperature=6000)
    with pytest.raises(EvencastError, match="does not tell the spectrum of a metal halide lamp"):
        light_of_fixture(read(description(body=body)), where="shed.gdtf")
    light = light_of_fixture(read(description(body=body, emitters=whites()[:1])), where="x")
    assert light.is_discharge
    assert light.note == "a discharge lamp by its file, taken as metal halide"


SELF = '<GeometryReference Geometry="a"/>'
LOOP = f'<Geometry Name="a">{SELF}{SELF}</Geometry>'
SOUND = description(body=beam(**FULL), emitters=whites())
REFUSED = {
    "doctype": (
        SOUND.replace("<GDTF", '<!DOCTYPE x [<!ENTITY a "b">]>\n<GDTF', 1),
        "holds a DOCTYPE, which is not read: it can make a file swell without end or reach for "
        "other files",
        "shed.gdtf, description.xml, line 2",
        "Take the DOCTYPE out; a GDTF description needs none.",
    ),
    "cut short": (
        SOUND[:-20],
        "is not well-formed XML: unclosed token",
        "shed.gdtf, description.xml, line 178",
        RIGHT_FILE,
    ),
    "deep": (
        SOUND.replace("<Geometries>", "<Geometries>" + "<Geometry>" * 99),
        "elements stand more than 50 deep",
        "shed.gdtf, description.xml, line 174",
        RIGHT_FILE,
    ),
    "bulk": (
        SOUND.replace("<Geometries>", "<Geometries>" + "<a/>" * 200_001),
        "more than 200000 elements",
        "shed.gdtf, description.xml, line 174",
        RIGHT_FILE,
    ),
    "a prefix that is not declared": (
        SOUND.replace("<Geometries>", "<Geometries><x:a/>"),
        "is not well-formed XML: unbound prefix",
        "shed.gdtf, description.xml, line 174",
        RIGHT_FILE,
    ),
    "something else": (
        "<svg/>",
        "holds no fixture type",
        "shed.gdtf, description.xml",
        f"A GDTF description holds one. {RIGHT_FILE}",
    ),
    "flux": (
        description(body=beam(LuminousFlux="nan")),
        'LuminousFlux "nan" is no number from 0 to 1e+07',
        "shed.gdtf, description.xml, line 7",
        f"Correct the description, or leave the attribute out. {RIGHT_FILE}",
    ),
    "angle": (
        description(body=beam(BeamAngle=-5)),
        'BeamAngle "-5" is no number from 0 to 360',
        "shed.gdtf, description.xml, line 7",
        f"Correct the description, or leave the attribute out. {RIGHT_FILE}",
    ),
    "references in a circle": (
        description([LOOP], modes=("a",)),
        "its geometries refer to each other without end",
        "shed.gdtf, description.xml, line 8",
        RIGHT_FILE,
    ),
    "an energy that is no number": (
        description(emitters=[whites()[0].replace('Energy="', 'Energy="x', 1)]),
        f'Energy "x{planckian(6500.0)[0]:.9g}" is no number from -1e+30 to 1e+30',
        "shed.gdtf, description.xml, line 7",
        f"Correct the description, or leave the attribute out. {RIGHT_FILE}",
    ),
    "a spectrum that breaks off": (
        description(emitters=[emitter("red", GRID_NM[:40], planckian(3000.0)[:40])]),
        "it covers 380 to 575 nm only",
        'shed.gdtf, description.xml, emitter "red"',
        "Give at least 400 to 700 nm; 380 to 780 nm is better.",
    ),
    "a wavelength twice": (
        description(emitters=[whites()[0].replace('"385"', '"380"')]),
        "380 nm stands twice",
        'shed.gdtf, description.xml, emitter "cool", line 8',
        "Sort the lines by wavelength, each wavelength once.",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_refused_in_words_and_at_once(name: str) -> None:
    """What, where and remedy, the line included; nothing takes long."""
    text, *said = REFUSED[name]
    started = time.process_time()
    assert list(refusal(archive(text))) == said
    assert time.process_time() - started < 2.0


def spoilt(content: bytes, before: bytes, after: bytes) -> bytes:
    assert before in content
    return content.replace(before, after)


ARCHIVE = archive(SOUND)
BAD_ARCHIVES = {
    "no archive": (b"hello", "is no archive, or one that is broken or cut short"),
    "empty": (b"", "is no archive, or one that is broken or cut short"),
    "another file in it": (archive(SOUND, name="other.xml"), "holds no description.xml"),
    "encrypted": (
        spoilt(
            ARCHIVE, b"PK\x01\x02\x14\x03\x14\x00\x00\x00", b"PK\x01\x02\x14\x03\x14\x00\x01\x00"
        ),
        "its description.xml is locked with a password, or broken",
    ),
    "spoilt inside": (
        ARCHIVE[:60] + b"\xff\xff\xff\xff" + ARCHIVE[64:],
        "is no archive, or one that is broken or cut short",
    ),
}


@pytest.mark.parametrize("name", BAD_ARCHIVES)
def test_broken_archives_are_refused(name: str) -> None:
    """No archive, none of the right name, locked, spoilt inside."""
    content, said = BAD_ARCHIVES[name]
    what, where, remedy = refusal(content)
    assert (what, where) == (said, "shed.gdtf")
    assert remedy == ("A GDTF archive holds one. " if name == "another file in it" else "") + (
        RIGHT_FILE
    )


def test_bombs_are_refused_without_room_for_them() -> None:
    """A gigabyte of blanks packed small; thousands of members; a description twice."""
    started = time.process_time()
    assert refusal(archive(b" " * (17 << 20)))[0] == "its description.xml is larger than 16 MiB"
    many = {f"{at}.png": b"" for at in range(5_001)}
    assert refusal(archive(SOUND, more=many))[0] == "holds more than 5000 files"
    twice = BytesIO()
    with zipfile.ZipFile(twice, "w") as made:
        made.writestr("description.xml", SOUND)
        with pytest.warns(UserWarning, match="Duplicate name"):
            made.writestr("description.xml", SOUND)
    assert refusal(twice.getvalue()) == (
        "holds more than one description.xml",
        "shed.gdtf",
        f"A GDTF archive holds one. {RIGHT_FILE}",
    )
    assert refusal(b"\0" * (64 * 1024 * 1024 + 1))[0] == "is larger than 64 MiB"
    assert time.process_time() - started < 5.0


def test_a_zero_at_the_end_of_the_description() -> None:
    """Some programs leave one; the description is read."""
    assert read(SOUND + "\0").flux_lm == 4200.0


def test_a_kind_that_is_known_goes_before_the_files() -> None:
    """It picks the spectra that stand for a colour temperature, and is not taken for granted."""
    fixture = read(description(body=beam(ColorTemperature=5600, LampType="Discharge")))
    led = light_of_fixture(fixture, where="shed.gdtf", kind="phosphor LED")
    same = light_of_fixture(
        read(description(body=beam(ColorTemperature=5600, LampType="LED"))), where="shed.gdtf"
    )
    np.testing.assert_array_equal(led.members, same.members)
    assert (led.kind, same.kind) == ("phosphor LED", "phosphor LED")
    assert "discharge" not in led.note
    with pytest.raises(EvencastError):
        light_of_fixture(fixture, where="shed.gdtf")
    measured = read(description(body=beam(EmitterSpectrum="cool"), emitters=whites()))
    assert light_of_fixture(measured, where="shed.gdtf", kind="tungsten").kind == "tungsten"
