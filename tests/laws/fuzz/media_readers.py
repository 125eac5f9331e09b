"""The readers of photometric files and fixtures, checked against a plain reading of the text."""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np

from evencast.errors import EvencastError
from evencast.media.beams import beam_candela
from evencast.media.distribution import peak, spread, total_flux_lm
from evencast.media.eulumdat import parse_eulumdat
from evencast.media.fixture import light_of_fixture
from evencast.media.gdtf import Fixture, parse_gdtf
from evencast.media.lm63 import parse_lm63
from evencast.media.photometry import Photometry
from evencast.quantities import Floats
from evencast.spectra import planckian
from tests import gdtf_files as gdtf
from tests.laws.fuzz.reader import Reader
from tests.photometric_files import Written, WrittenLdt, eulumdat, lm63, lopsided

V_DEG = np.array([0.0, 20.0, 45.0, 70.0, 90.0])


def _light(low: float, high: float, **changes: object) -> Written:
    planes = np.linspace(low, high, 5) if high > low else np.array([low])
    return replace(lopsided(planes, vertical_deg=V_DEG), **changes)  # type: ignore[arg-type]


LM63 = (
    lm63(_light(0, 0)),
    lm63(_light(0, 90, units=1, multiplier=2.5), separator=","),
    lm63(_light(0, 180, first_line="IES:LM-63-2019", lumens=-1.0, end="\r\n")),
    lm63(_light(90, 270, first_line="IESNA91", factors=(0.95, 0.9)), per_line=3),
    lm63(_light(0, 360, first_line="A lamp", tilt="TILT=INCLUDE\n1\n3\n0 45 90\n1 0.9 0.8")),
)
LM63_TOKENS = (
    *("TILT=NONE", "TILT=INCLUDE", "TILT=x.tlt", "[MORE]", "[LAMP] x", "IESNA91", "\x1a", "-1"),
    *("IES:LM-63-2019", "IESNA:LM-63-1995", " 1 ", "\n0 ", "90", "180", "360", "1000000000"),
)


def check_photometry(light: Photometry) -> None:
    """Whole, nowhere negative, somewhere lit; every sum finite; told about."""
    assert light.candelas.shape == (len(light.horizontal_deg), len(light.vertical_deg))
    assert np.isfinite(light.candelas).all()
    assert (light.candelas >= 0).all()
    assert peak(light).candela > 0
    assert (np.diff(light.vertical_deg) > 0).all()
    assert 0 <= light.vertical_deg[0] < light.vertical_deg[-1] <= 180
    assert (np.diff(light.horizontal_deg) > 0).all()
    assert light.horizontal_deg[0] == 0
    assert len(light.horizontal_deg) == 1 or light.horizontal_deg[-1] >= 360 - 1e-6
    assert 0 <= total_flux_lm(light) <= 4 * np.pi * peak(light).candela * (1 + 1e-9)
    for share in (0.5, 0.1):
        assert 0 <= spread(light, share=share).along_deg <= 360
    for text in (light.name, *light.remarks, *(each for pair in light.keywords for each in pair)):
        assert text.isprintable()


def _same_planes(light: Photometry, planes_deg: Floats, candelas: Floats) -> None:
    """Every plane of the file stands in the light with its own candelas."""
    if light.symmetry == "round":
        np.testing.assert_allclose(light.candelas, candelas, rtol=1e-12)
        return
    for plane, row in zip(planes_deg, candelas, strict=True):
        apart = np.abs((light.horizontal_deg - plane + 180.0) % 360.0 - 180.0)
        near = np.flatnonzero(apart <= 2e-6)
        assert any(np.allclose(light.candelas[at], row, rtol=1e-12, atol=0) for at in near), plane


def checked_lm63(text: str) -> Photometry:
    """Every number after the tilt line, in order and none left over."""
    light = parse_lm63(text, where="x.ies")
    check_photometry(light)
    lines = re.split("\r\n|\r|\n", text.removeprefix("\ufeff"))
    at = next(at for at, each in enumerate(lines) if re.match(r"\s*tilt\s*=", each, re.I))
    found = " ".join(lines[at + 1 :]).replace(",", " ").rstrip(" \t\0\x1a").split()
    values = [float(each) for each in found]
    if "include" in lines[at].lower():
        pairs = int(values[1])
        assert light.tilt is not None
        assert light.tilt.angles_deg.tolist() == values[2 : 2 + pairs]
        assert light.tilt.factors.tolist() == values[2 + pairs : 2 + 2 * pairs]
        values = values[2 + 2 * pairs :]
    count_v, count_h = int(values[3]), int(values[4])
    assert len(values) == 13 + count_v + count_h + count_v * count_h
    assert values[5] == 1
    second = values[11] if light.standard in ("IES LM-63-1986", "IES LM-63-1991") else 1.0
    table = np.array(values[13 + count_v + count_h :]).reshape(count_h, count_v)
    assert light.vertical_deg.tolist() == values[13 : 13 + count_v]
    planes = np.array(values[13 + count_v : 13 + count_v + count_h])
    _same_planes(light, planes, table * (values[2] * values[10] * second))
    assert light.lamps == values[0]
    assert (light.lumens_per_lamp or values[1]) == values[1]
    return light


PLANES = np.arange(0.0, 360.0, 45.0)
HELD = {0: PLANES, 1: PLANES[:1], 2: PLANES[:5], 3: PLANES[[6, 7, 0, 1, 2]], 4: PLANES[:3]}
LDT = tuple(
    eulumdat(
        WrittenLdt(
            V_DEG,
            PLANES,
            lopsided(HELD[symmetry], vertical_deg=V_DEG).candelas,
            symmetry=symmetry,
            sets=1 + symmetry % 2,
        ),
        end="\n" if symmetry else "\r\n",
        mark="," if symmetry == 4 else ".",
    )
    for symmetry in HELD
)


def checked_eulumdat(text: str) -> Photometry:
    """Every number below the lamps, in order and none left over."""
    light = parse_eulumdat(text, where="x.ldt")
    check_photometry(light)
    lines = [each.strip() for each in re.split("\r\n|\r|\n", text.removeprefix("\ufeff"))]
    numbers = {at: float(lines[at - 1].replace(",", ".") or 0) for at in (3, 4, 6, 24, 26, 27, 29)}
    below = " ".join(lines[26 + 6 * int(numbers[26]) :]).replace(",", ".").rstrip("\0\x1a \t")
    values = [float(each) for each in below.split()][10:]
    count_c, count_g = int(numbers[4]), int(numbers[6])
    planes = np.array(values[:count_c])
    if numbers[3] == 3:
        planes = np.concatenate([planes[planes >= 270 - 1e-6], planes[planes <= 90 + 1e-6]])
    elif numbers[3]:
        planes = planes[planes <= {1: planes[0], 2: 180, 4: 90}[int(numbers[3])] + 1e-6]
    assert light.vertical_deg.tolist() == values[count_c : count_c + count_g]
    table = np.array(values[count_c + count_g :]).reshape(len(planes), count_g)
    _same_planes(light, planes, table * (numbers[24] * numbers[29] / 1000))
    return light


def _fixture(**values: object) -> str:
    nm = np.arange(380.0, 785.0, 20.0)
    colours = [
        gdtf.emitter("warm", nm, planckian(2700.0, nm), LuminousIntensity=500),
        gdtf.emitter("cool", nm, planckian(6500.0, nm)),
    ]
    cell = f'<Geometry Name="cell">{gdtf.beam(**values)}</Geometry>'
    body = '<GeometryReference Name="a" Geometry="cell"/>' + gdtf.beam("b", **values)
    return gdtf.description([cell], colours, body=body)


GDTF = (
    _fixture(LampType="LED", LuminousFlux=900, ColorTemperature=4000, BeamAngle=20),
    _fixture(LampType="Halogen", FieldAngle=33.5, EmitterSpectrum="warm", BeamType="PC"),
)
GDTF_TOKENS = (
    *("<!DOCTYPE x>", "<!--", "-->", "<![CDATA[", "]]>", "&amp;", "&#0;", "</Geometry>", "<Beam/>"),
    *('Geometry="cell"', 'Geometry="body"', 'Name="body"', 'BeamType="Glow"', "<Emitter>", "xml"),
    *('Physical="5"', 'LampType="Discharge"', '<MeasurementPoint WaveLength="455" Energy="1"/>'),
)


def checked_gdtf(text: str) -> Fixture:
    """Numbers and samples as the standard library's tree gives them."""
    content = gdtf.archive(text.encode("utf-8", "surrogatepass"))
    return _checked_fixture(parse_gdtf(content, where="x.gdtf"), text.rstrip("\0"))


def _checked_fixture(fixture: Fixture, text: str) -> Fixture:
    assert "<!DOCTYPE" not in re.sub(
        r"<!--.*?-->|<!\[CDATA\[.*?\]\]>|<\?.*?\?>", "", text, flags=re.S
    )
    root = ElementTree.fromstring(text.encode("utf-8", "surrogatepass"))
    written = [each.attrib for each in root.iter("Beam")]
    for beam in fixture.beams:
        for key, value in (
            ("LuminousFlux", beam.flux_lm),
            ("ColorTemperature", beam.cct_k),
            ("BeamAngle", beam.beam_deg),
            ("FieldAngle", beam.field_deg),
        ):
            said = [float(each[key]) for each in written if each.get(key, "").strip()]
            assert value is None or (value > 0 and value in said)
    nodes = root.findall("FixtureType/PhysicalDescriptions/Emitters/Emitter")
    for emitter, node in zip(fixture.emitters, nodes, strict=True):
        if emitter.spectrum is not None:
            _check_samples(emitter.spectrum.wavelengths_nm, emitter.spectrum.values, node)
    with suppress(EvencastError):
        bright = beam_candela(fixture, where="x.gdtf")
        assert 0 < bright.low_cd <= bright.high_cd < np.inf
        assert bright.told.isprintable()
    try:
        light = light_of_fixture(fixture, where="x.gdtf")
    except EvencastError:
        return fixture
    for power in (light.power, *light.emitters):
        assert np.isfinite(power).all()
        assert (power >= 0).all()
        assert power.any()
    assert light.note.isprintable()
    return fixture


def _check_samples(nm: Floats, values: Floats, node: ElementTree.Element) -> None:
    """One of the measurements, filled up with nothing."""
    kept = dict(zip(nm.tolist(), values.tolist(), strict=True))
    fits = []
    for measured in node.findall("Measurement"):
        points = {
            float(each.get("WaveLength", "").strip() or 0): float(
                each.get("Energy", "").strip() or 0
            )
            for each in measured.findall("MeasurementPoint")
        }
        same = all(kept.get(at) == max(value, 0.0) for at, value in points.items())
        fits.append(same and not any(kept[at] for at in kept if at not in points))
    assert any(fits)


def checked_archive(text: str) -> Fixture:
    """An archive spoilt byte by byte: what comes out is a description that is in it."""
    return parse_gdtf(text.encode("latin-1", "replace"), where="x.gdtf")


MEDIA_READERS = {
    "IES LM-63": Reader(LM63, LM63_TOKENS, checked_lm63),
    "EULUMDAT": Reader(LDT, ("\n", "\n\n", "360", "90", "-1", "0,5"), checked_eulumdat),
    "GDTF description": Reader(GDTF, GDTF_TOKENS, checked_gdtf, many=20_000),
    "GDTF archive": Reader(
        tuple(gdtf.archive(each).decode("latin-1") for each in GDTF),
        ("PK\x01\x02", "PK\x03\x04", "PK\x05\x06", "description.xml", "\xff\xff\xff\xff"),
        checked_archive,
        many=20_000,
    ),
}
