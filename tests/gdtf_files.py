"""Writes GDTF archives for the tests: invented fixtures only."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping, Sequence
from io import BytesIO

import numpy as np

from evencast.quantities import Floats
from evencast.spectra import GRID_NM, planckian


def attributes(**values: object) -> str:
    return "".join(f' {key}="{value}"' for key, value in values.items())


def beam(name: object = "lens", **values: object) -> str:
    """A beam geometry; what is not given is left out."""
    return f"<Beam{attributes(Name=name, **values)}/>"


def emitter(
    name: str, nm: Floats, power: Floats, *, physical: float = 100, **values: object
) -> str:
    """An emitter with one measurement."""
    points = "".join(
        f'<MeasurementPoint WaveLength="{at:g}" Energy="{value:.9g}"/>\n'
        for at, value in zip(nm, power, strict=True)
    )
    said = attributes(Physical=physical, **values)
    inside = f"<Measurement{said}>\n{points}</Measurement>"
    return f'<Emitter Name="{name}" Color="0.3,0.3,10">\n{inside}</Emitter>\n'


def description(
    geometries: Sequence[str] = (),
    emitters: Sequence[str] = (),
    *,
    modes: Sequence[str] = ("body",),
    body: str = "",
) -> str:
    """The XML: one top geometry "body" holding `body`, further top geometries, emitters."""
    listed = "".join(
        f'<DMXMode Name="mode {at}" Geometry="{top}"/>' for at, top in enumerate(modes)
    )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n<GDTF DataVersion="1.2">\n'
        '<FixtureType Name="shed" LongName="shed lamp" Manufacturer="nobody">\n'
        f"<PhysicalDescriptions><Emitters>\n{''.join(emitters)}</Emitters></PhysicalDescriptions>\n"
        f'<Geometries>\n<Geometry Name="body" Position="{{1,0,0,0}}">{body}</Geometry>\n'
        f"{''.join(geometries)}</Geometries>\n"
        f"<DMXModes>{listed}</DMXModes>\n</FixtureType>\n</GDTF>\n"
    )


def archive(
    xml: str | bytes, *, name: str = "description.xml", more: Mapping[str, bytes] = {}
) -> bytes:
    """The archive around a description."""
    content = BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as made:
        made.writestr(name, xml)
        for other, data in more.items():
            made.writestr(other, data)
    return content.getvalue()


def band(centre_nm: float, width_nm: float) -> Floats:
    """A bell on the grid, as an emitter of one colour has."""
    return np.asarray(np.exp(-(((GRID_NM - centre_nm) / width_nm) ** 2)))


def whites() -> list[str]:
    """A warm and a cool emitter: 2700 and 6500 K of Planck's law."""
    return [
        emitter("cool", GRID_NM, planckian(6500.0), LuminousIntensity=900),
        emitter("warm", GRID_NM, planckian(2700.0), LuminousIntensity=600),
    ]
