"""Fixtures in GDTF: flux, beam, colour temperature and the spectra of their emitters.

Source  GDTF 1.2 (DIN SPEC 15800) as publicly described at gdtf.eu and in the library pygdtf, which
        takes the elements apart. What a file leaves out stays unknown here: the format's own
        defaults (10 000 lm, 6000 K, 25 degrees) say nothing of a light.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from evencast.media.archive import LINE, RIGHT_FILE, description
from evencast.quantities import Floats
from evencast.spectra import Spectrum
from evencast.spectra.samples import Samples, checked, fail, number, shown

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

MOST_STEPS = 100_000
"""Geometries gone through at most, those that others refer to counted each time."""
DEEPEST_REFERENCE = 8
DARK_END = 0.02
"""An emitter's samples may end inside 400 to 700 nm where they have fallen to this of the peak."""
REACH_NM = (380.0, 780.0)
_NO_BEAM = ("None", "Glow")
_BEAM_NUMBERS = {
    "LuminousFlux": 1e7,
    "ColorTemperature": 1e5,
    "BeamAngle": 360.0,
    "FieldAngle": 360.0,
    "PowerConsumption": 1e6,
}


@dataclass(frozen=True, slots=True)
class Beam:
    """One beam of a fixture; None where the file does not say.

    lamp     : "LED", "Tungsten", "Halogen", "Discharge", or ""
    emitter  : name of the emitter that is its white light, or ""
    """

    name: str
    lamp: str
    flux_lm: float | None
    cct_k: float | None
    beam_deg: float | None
    field_deg: float | None
    input_w: float | None
    emitter: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Emitter:
    """One of the colours a fixture mixes, at full.

    candela  : None where the file does not say
    spectrum : relative power; None where the file has none
    """

    name: str
    candela: float | None
    spectrum: Spectrum | None


@dataclass(frozen=True, slots=True, eq=False)
class Fixture:
    """What a GDTF file says that matters for light.

    beams    : each as often as the fixture has it, in its first mode
    emitters : in the file's order
    remarks  : what was made out about the file, phrases without a full stop
    """

    name: str
    mode: str
    beams: tuple[Beam, ...]
    emitters: tuple[Emitter, ...]
    remarks: tuple[str, ...] = ()

    @property
    def flux_lm(self) -> float | None:
        """Of all beams together; None where one does not say. [lm]"""
        fluxes = [each.flux_lm for each in self.beams if each.flux_lm is not None]
        return sum(fluxes) if fluxes and len(fluxes) == len(self.beams) else None

    @property
    def beam_deg(self) -> float | None:
        """The beam angle where all beams agree. [degrees]"""
        return _agreed([each.beam_deg for each in self.beams])

    @property
    def field_deg(self) -> float | None:
        """The field angle where all beams agree. [degrees]"""
        return _agreed([each.field_deg for each in self.beams])

    @property
    def cct_k(self) -> float | None:
        """The colour temperature where all beams agree. [K]"""
        return _agreed([each.cct_k for each in self.beams])

    @property
    def lamp(self) -> str:
        """The kind of lamp where all beams agree, else ""."""
        lamps = {each.lamp for each in self.beams}
        return lamps.pop() if len(lamps) == 1 else ""


def _agreed(values: list[float | None]) -> float | None:
    return values[0] if len(set(values)) == 1 else None


def parse_gdtf(content: bytes, *, where: str) -> Fixture:
    """What a .gdtf archive says of a fixture's light, in its first mode.

    where : name of the file, for errors
    Raises  EvencastError that names the line and what would be accepted
    """
    root = description(content, where=where)
    inside = f"{where}, description.xml"
    fixture = root.find("FixtureType") if root.tag == "GDTF" else None
    if fixture is None:
        fail("holds no fixture type", inside, f"A GDTF description holds one. {RIGHT_FILE}")
    named = fixture.get("LongName") or fixture.get("Name") or ""
    beams, mode, remarks = _beams_of(fixture, inside)
    emitters = []
    for node in fixture.findall("PhysicalDescriptions/Emitters/Emitter"):
        emitter, said = _emitter(node, inside)
        emitters.append(emitter)
        remarks += said
    return Fixture(shown(named, most=80), mode, beams, tuple(emitters), remarks)


def _beams_of(fixture: Element, where: str) -> tuple[tuple[Beam, ...], str, tuple[str, ...]]:
    """The beams of the first mode, its name, and what to say of them."""
    tops = {each.get("Name", ""): each for each in fixture.findall("Geometries/*")}
    modes = fixture.findall("DMXModes/DMXMode")
    mode = shown(modes[0].get("Name", "")) if modes else ""
    wanted = modes[0].get("Geometry", "") if modes else ""
    start = tops.get(wanted) if wanted in tops else next(iter(tops.values()), None)
    if start is None:
        return (), mode, ("it says nothing of beams",)
    nodes = list(_beam_nodes(start, tops, where))
    lit = [each for each in nodes if each.get("BeamType") not in _NO_BEAM]
    remarks = []
    if len({each.get("Geometry", "") for each in modes}) > 1:
        remarks.append(f'its modes differ, the first one taken: "{mode}"')
    if len(lit) < len(nodes):
        remarks.append(f"{len(nodes) - len(lit)} that only glow are left out")
    if not lit:
        remarks.append("it says nothing of beams")
    return tuple(_beam(each, where) for each in lit), mode, tuple(remarks)


def _beam_nodes(start: Element, tops: dict[str, Element], where: str) -> Iterator[Element]:
    """Every beam below a geometry, also through references, as often as it is there."""
    waiting, steps = [(start, 0)], 0
    while waiting:
        node, followed = waiting.pop()
        steps += 1
        if steps > MOST_STEPS or followed > DEEPEST_REFERENCE:
            fail(
                "its geometries refer to each other without end",
                f"{where}, line {node.get(LINE)}",
                RIGHT_FILE,
            )
        if node.tag == "Beam":
            yield node
        target = tops.get(node.get("Geometry", "")) if node.tag == "GeometryReference" else None
        if target is not None:
            waiting.append((target, followed + 1))
        waiting += [(child, followed) for child in reversed(node)]


def _beam(node: Element, where: str) -> Beam:
    import pygdtf  # slow to import, and few questions read GDTF

    place = f"{where}, line {node.get(LINE)}"
    said = {key: _checked(node, key, 0.0, most, place) for key, most in _BEAM_NUMBERS.items()}
    read = pygdtf.GeometryBeam(xml_node=_only(node, *_BEAM_NUMBERS, "LampType", "EmitterSpectrum"))
    values = {
        "LuminousFlux": read.luminous_flux,
        "ColorTemperature": read.color_temperature,
        "BeamAngle": read.beam_angle,
        "FieldAngle": read.field_angle,
        "PowerConsumption": read.power_consumption,
    }
    known = {key: value if said[key] else None for key, value in values.items()}
    link = read.emitter_spectrum.str_link if node.get("EmitterSpectrum") else ""
    return Beam(
        name=shown(node.get("Name", "")),
        lamp=read.lamp_type.value if node.get("LampType") == read.lamp_type.value else "",
        flux_lm=known["LuminousFlux"],
        cct_k=known["ColorTemperature"],
        beam_deg=known["BeamAngle"],
        field_deg=known["FieldAngle"],
        input_w=known["PowerConsumption"],
        emitter=link,
    )


def _only(node: Element, *keys: str) -> Element:
    """The element with these attributes alone, so that nothing else can trip the library."""
    from xml.etree.ElementTree import Element as NewElement

    return NewElement(node.tag, {key: node.attrib[key] for key in keys if key in node.attrib})


def _checked(node: Element, key: str, least: float, most: float, place: str) -> bool:
    """Whether an attribute says something: a number above 0; 0 and nothing are silence."""
    text = node.get(key, "").strip()
    if not text:
        node.attrib.pop(key, None)
        return False
    value = number(text)
    if value is None or not least <= value <= most:
        fail(
            f'{key} "{shown(text)}" is no number from {least:g} to {most:g}',
            place,
            f"Correct the description, or leave the attribute out. {RIGHT_FILE}",
        )
    return value > 0


def _emitter(node: Element, where: str) -> tuple[Emitter, tuple[str, ...]]:
    """An emitter at its fullest measurement, and what to say of it."""
    import pygdtf

    name = shown(node.get("Name", ""))
    place = f'{where}, emitter "{name}"'
    found = [(_measured(each, place), each) for each in node.findall("Measurement")]
    if not found:
        return Emitter(name, None, None), ()
    _, fullest = max(found, key=lambda each: each[0])
    read = pygdtf.Measurement(xml_node=_only(fullest, "Physical", "LuminousIntensity"))
    points = fullest.findall("MeasurementPoint")
    for point in points:
        at = f"{where}, line {point.get(LINE)}"
        _checked(point, "WaveLength", 0.0, 1e5, at)
        _checked(point, "Energy", -1e30, 1e30, at)
    if not points:
        return Emitter(name, read.luminous_intensity or None, None), ()
    samples = [pygdtf.MeasurementPoint(xml_node=each) for each in points]
    nm = np.array([each.wave_length for each in samples], dtype=np.float64)
    power = np.array([each.energy for each in samples], dtype=np.float64)
    lines = [int(each.get(LINE, "0")) for each in points]
    spectrum = _spectrum(nm, power, lines, place)
    ends = spectrum.wavelengths_nm[[0, -1]]
    short = ends[0] < nm.min() or ends[1] > nm.max()
    said = (f'emitter "{name}" is taken as dark beyond its samples',) if short else ()
    return Emitter(name, read.luminous_intensity or None, spectrum), said


def _measured(node: Element, place: str) -> float:
    """At how much of full an emitter was measured; checks its numbers."""
    _checked(node, "Physical", 0.0, 1e6, place)
    _checked(node, "LuminousIntensity", 0.0, 1e12, place)
    return float(node.get("Physical", "0"))


def _spectrum(nm: Floats, power: Floats, lines: list[int], place: str) -> Spectrum:
    """The samples of an emitter, filled up with nothing where a narrow band has ended."""
    order = np.argsort(nm, kind="stable")
    nm, power, lines = nm[order], power[order], [lines[at] for at in order]
    wide_nm, wide_power = _widened(nm, power)
    before = int(np.searchsorted(wide_nm, nm[0]))
    after = len(wide_nm) - before - len(nm)
    every = [lines[0]] * before + lines + [lines[-1]] * after
    return checked(Samples(wide_nm, wide_power, every), quantity="power", where=place).spectrum


def _widened(nm: Floats, power: Floats) -> tuple[Floats, Floats]:
    """Samples of 0 out to 380 and 780 nm, where the band has fallen off before."""
    steps = np.diff(nm)
    step = float(np.clip(np.median(steps), 1.0, 20.0)) if len(steps) else 20.0
    least = DARK_END * float(power.max())
    low = high = np.zeros(0)
    if REACH_NM[0] < nm[0] < 1e4 and power[0] <= least:
        low = np.arange(nm[0] - step, REACH_NM[0] - step, -step)[::-1]
    if 0 < nm[-1] < REACH_NM[1] and power[-1] <= least:
        high = np.arange(nm[-1] + step, REACH_NM[1] + step, step)
    return np.concatenate([low, nm, high]), np.concatenate([0 * low, power, 0 * high])
