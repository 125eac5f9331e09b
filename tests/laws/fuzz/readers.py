"""Every reader of something a person wrote: sound samples, tokens, and what an answer must hold.

A reader gets a text and either raises an EvencastError or returns; what it returns is checked
here against an independent reading of the same text, so that nothing is silently wrong.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from xml.etree import ElementTree

import numpy as np

from evencast.actions import resolve
from evencast.actions.kit import load_kit
from evencast.errors import Problem
from evencast.filters import Filter
from evencast.lights import Light
from evencast.plan.document import read_kit, read_plan
from evencast.spectra import Quantity, read_spectrum
from evencast.spectra.samples import SpectrumFile, number
from tests.laws.fuzz.media_readers import MEDIA_READERS
from tests.laws.fuzz.reader import Reader

FORMAT_1 = Path(__file__).parents[2] / "documents" / "format-1"


def _rows(separator: str, mark: str = ".", percent: str = "") -> str:
    return "".join(
        f"{nm}{separator}{(nm - 300) / 5:.2f}{percent}\n".replace(".", mark)
        for nm in range(380, 785, 20)
    )


CSV = (
    _rows(","),
    "wavelength_nm,T (%)\n" + _rows(","),
    _rows(";", ","),
    _rows("\t", percent="%"),
    "T nm\n" + "".join(f"0.{nm} {nm}\n" for nm in range(780, 375, -20)),
    'Instrument;X\n"nm";"value"\n\n# remark\n' + _rows(";").replace("\n", ";\r\n"),
)


def checked_csv(text: str, quantity: Quantity) -> SpectrumFile:
    """Each sample is two numbers of one line, and each line of numbers is a sample."""
    file = read_spectrum(text, quantity=quantity, where="x.csv")
    check_spectrum(file, quantity)
    lines = [
        line for line in text.removeprefix("\ufeff").splitlines() if not re.match(r"\s*(#|$)", line)
    ]
    lines = lines[-len(file.spectrum.values) :]
    if lines[0].count("<") or text.lstrip("\ufeff \t\r\n").startswith("<"):
        return file
    nm, values = file.spectrum.wavelengths_nm, file.spectrum.values
    if "written from red to blue" in file.remarks:
        nm, values = nm[::-1], values[::-1]
    in_percent = any(each.startswith("values in percent") for each in file.remarks)
    for line, here_nm, value in zip(lines, nm, values * (100 if in_percent else 1), strict=True):
        found = [number(each.replace(",", ".")) for each in _number_texts(line, file.remarks)]
        written = [each for each in found if each is not None]
        assert len(written) == 2, line
        nearest = [each for each in written if each == here_nm]
        assert nearest, (line, here_nm)
        other = written[1] if written[0] == here_nm else written[0]
        assert np.isclose(max(other, 0.0), value, rtol=1e-12) or (other < 0 and value == 0), line
    return file


def _number_texts(line: str, remarks: Sequence[str]) -> list[str]:
    """The pieces between whatever may stand between columns, signs and quotes left out."""
    plain = line.replace('"', "").replace("%", "")
    return re.split(r"[;\s]+" if "decimal comma" in remarks else r"[;,\s]+", plain.rstrip(" ,;\t"))


SAID = "<SpectralQuantity>{}</SpectralQuantity><TransmissionGeometry>0:di</TransmissionGeometry>"
SPDX = tuple(
    '<?xml version="1.0"?>\n<IESTM2714 xmlns="http://www.ies.org/iestm2714" version="1.0">\n'
    "<Header><Description>a &amp; b</Description><DocumentCreator>me</DocumentCreator>\n"
    "<DocumentCreationDate>2031-05-04</DocumentCreationDate></Header>\n<SpectralDistribution>\n"
    + SAID.format(quantity)
    + "\n"
    + "\n".join(
        f'<SpectralData wavelength="{nm}">{(nm - 300) / 500}</SpectralData>'
        for nm in range(380, 785, 20)
    )
    + "\n</SpectralDistribution></IESTM2714>"
    for quantity in ("relative", "transmittance")
)
XML_TOKENS = (
    *("<!DOCTYPE x>", "<!DOCTYPE x [", "]>", "<!ENTITY a 'b'>", "&a;", "&#0;", "&#x1F600;"),
    *("<!--", "-->", "<![CDATA[", "]]>", "<?xml version='1.0'?>", "<?a b?>", "<a>", "</a>", "<a/>"),
    *("<a xmlns='urn:x'/>", "xmlns=''", "xmlns:s='iestm2714'", "s:", "<SpectralDistribution>"),
    *("</SpectralDistribution>", "<SpectralData wavelength='455'>0.5</SpectralData>", "None"),
    *("</SpectralData>", "wavelength=", "flux", "T-Factor", "<Header>", "</Header>", "iestm2714"),
)


def checked_spdx(text: str, quantity: Quantity) -> SpectrumFile:
    """The same samples as the standard library's tree gives, without one left out."""
    file = read_spectrum(text, quantity=quantity, where="x.spdx")
    check_spectrum(file, quantity)
    assert "<!DOCTYPE" not in re.sub(
        r"<!--.*?-->|<!\[CDATA\[.*?\]\]>|<\?.*?\?>", "", text, flags=re.S
    )
    root = ElementTree.fromstring(text.removeprefix("\ufeff").encode())
    space = root.tag.partition("}")[0] + "}"
    data = root.findall(f"{space}SpectralDistribution/{space}SpectralData")
    nm = [float(each.attrib["wavelength"]) for each in data]
    values = np.array([float("".join(each.itertext())) for each in data])
    order = slice(None, None, -1 if "written from red to blue" in file.remarks else 1)
    scale = 100 if any(each.startswith("values in percent") for each in file.remarks) else 1
    np.testing.assert_array_equal(file.spectrum.wavelengths_nm, nm[order])
    np.testing.assert_allclose(
        file.spectrum.values, np.maximum(values, 0)[order] / scale, rtol=1e-12
    )
    return file


def check_spectrum(file: SpectrumFile, quantity: Quantity) -> None:
    """Finite, nowhere negative, somewhere more than nothing, rising, told about."""
    spectrum = file.spectrum
    assert np.isfinite(spectrum.values).all()
    assert (spectrum.values >= 0).all()
    assert (np.diff(spectrum.wavelengths_nm) > 0).all()
    assert np.isfinite(spectrum.grid).all()
    assert (spectrum.grid >= 0).all()
    assert spectrum.grid.any()
    assert file.note.isprintable()
    if quantity == "transmittance":
        assert spectrum.values.max() <= 1.0
        assert file.transmittance.max() <= 1.0


LIGHTS = (
    *("tungsten", "cool white tube FL2", "D65", "3200K", "5400K+0.0065", "4000 k-0.002"),
    *("tungsten -1stop", "panel at 4300K", "camera 5200K", "camera 5200K 4 toward magenta"),
)
LIGHT_TOKENS = (
    *(" -1stop", " - 1 stops", " at 4300K", "K", "k", "camera ", "toward green", "+0.01", "-0.01"),
    *(" at ", "  ", "stop", "FL", "LED", "tint", "1", "5600", "0.5", "\u212a"),
)


def checked_light(text: str) -> Light:
    """A finite spectrum with light in it."""
    light = resolve.light(text)
    for power in (light.power, light.members):
        assert np.isfinite(power).all()
        assert (power >= 0).all()
        assert (power.sum(axis=-1) > 0).all()
    return light


FILTERS = ("full CTB", "half  ctb", "quarter CTO", "full plus green", "ND 0.3", "light frost")


def checked_filter(text: str) -> Filter:
    """A transmittance from nothing to all."""
    found = resolve.filter_named(text, None)
    assert np.isfinite(found.transmittance).all()
    assert found.transmittance.min() >= 0
    assert found.transmittance.max() <= 1
    return found


AIMS = (
    *(
        "5600K",
        "5600K+0.003",
        "balance-30mired",
        "balance",
        "like FL2",
        "like half CTB on tungsten",
    ),
    *("0.33,0.34", "5600K+0.5stop", "0.45 , 0.41 -1stop", "like tungsten -1stop"),
    *("look moonlight, discreet", "look late sun +1stop", "LOOK sodium"),
)


def checked_aim(text: str) -> object:
    """A colour that can be drawn."""
    aim = resolve.aim(text, balance="4300K", kit=None)
    assert np.isfinite(aim.uv).all()
    assert np.isfinite(aim.stops)
    return aim


KITS = tuple((FORMAT_1 / name).read_bytes().decode() for name in ("kit.toml",))
PLANS = tuple(
    (FORMAT_1 / name).read_bytes().decode()
    for name in ("plan.toml", "plan-card.toml", "plan-range.toml")
)
TOML_TOKENS = (
    *("true", "[]", "{}", "[[1], 2]", "07:30:00", "2031-05-04", "'x'", '"""', "[[filter]]", "= 1"),
    *("[[light]]", "[camera]", "format = 1", "name = 'a'", "kelvin = {", "xyy = [{", "a.b = 1"),
    *("\\u0000", "\\uD800", "spectrum = 'x.spdx'", "duv = 1e400", "0x7F", "1e400", "_mm", "_in"),
)


def checked_document(text: str, read: Callable[..., tuple[object, list[Problem]]]) -> object:
    """A document whose texts and numbers are those of the standard library's TOML, or errors."""
    document, problems = read(text, where="x.toml")
    assert all(each.message and each.where and each.remedy for each in problems)
    errors = [each for each in problems if each.severity == "error"]
    assert (document is None) == bool(errors)
    if document is not None:
        written = tomllib.loads(text.removeprefix("\ufeff"))
        model = document.model  # type: ignore[attr-defined]  # a Document, whatever it is of
        for key in ("filter", "light"):
            if key not in type(model).model_fields:
                continue  # an unknown key of that name is nobody's business
            entries = getattr(model, key)
            assert len(entries) == len(written.get(key, ()))
            for entry, raw in zip(entries, written.get(key, ()), strict=True):
                assert entry.name.split() == raw["name"].split()
                for name in ("cct_k", "duv", "spectrum", "generic"):
                    assert getattr(entry, name, None) == raw.get(name, getattr(entry, name, None))
    return document


DECLARED = """format = 1
name = "declared"
[[filter]]
name = "blue"
role = "correction"
{}
"""
DECLARED_KITS = (
    DECLARED.format("kelvin = { from_k = 3200, to_k = 5600, stops = 1.67 }"),
    DECLARED.format("kelvin = { from_k = 5600, to_k = 3200, stops = 0.67, duv = 0.002 }"),
    DECLARED.format('xyy = [{ illuminant = "A", x = 0.3476, y = 0.3662, Y_percent = 34.1 }]'),
    DECLARED.format(
        'xyy = [{ illuminant = "A", x = 0.3476, y = 0.3662, Y_percent = 34.1 },\n'
        '{ illuminant = "D65", x = 0.2321, y = 0.2286, Y_percent = 37.0 }]'
    ),
)


def checked_kit(text: str) -> object:
    """A kit on disk, its declared numbers turned into transmittances from nothing to all."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "kit.toml"
        path.write_bytes(text.encode("utf-8", "surrogatepass"))
        kit = load_kit(path)
    for each in kit.filters:
        for transmittance in (each.transmittance, each.possible):
            assert transmittance is None or np.isfinite(transmittance).all()
            assert transmittance is None or (0 <= transmittance).all()
            assert transmittance is None or (transmittance <= 1).all()
    return kit


READERS = {
    "CSV of a light": Reader(CSV, ("nm", "percent", "power"), lambda t: checked_csv(t, "power")),
    "CSV of a filter": Reader(
        CSV, ("nm", "percent", "T"), lambda t: checked_csv(t, "transmittance")
    ),
    "IES TM-27 of a light": Reader(SPDX, XML_TOKENS, lambda t: checked_spdx(t, "power")),
    "IES TM-27 of a filter": Reader(SPDX, XML_TOKENS, lambda t: checked_spdx(t, "transmittance")),
    "light": Reader(LIGHTS, LIGHT_TOKENS, checked_light),
    "filter": Reader(FILTERS, ("half", "CTB", "+", " "), checked_filter),
    "aim": Reader(AIMS, (*LIGHT_TOKENS, "like ", "look ", " on ", "balance", "mired"), checked_aim),
    "kit document": Reader(KITS, TOML_TOKENS, lambda t: checked_document(t, read_kit)),
    "plan document": Reader(PLANS, TOML_TOKENS, lambda t: checked_document(t, read_plan)),
    "kit of declared numbers": Reader(
        DECLARED_KITS, TOML_TOKENS, checked_kit, many=5_000, longest_s=4.0
    ),
    **MEDIA_READERS,
}
