"""A fixture's file as a light: its own spectra where given, else what its numbers leave open."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evencast.colour import mired_duv, uv, white_uv, xyz
from evencast.lights import Light, LightKind, of_kelvin, of_reading, of_spectrum
from evencast.media.gdtf import Emitter, Fixture
from evencast.quantities import Floats
from evencast.spectra.samples import fail

WHITE_DUV = 0.02
"""Two emitters within this of the locus are the two whites of a panel, not two colours. Common
practice, no source."""

_KINDS: dict[str, LightKind] = {
    "LED": "phosphor LED",
    "Tungsten": "tungsten",
    "Halogen": "tungsten",
    "Discharge": "metal halide",
}


def light_of_fixture(fixture: Fixture, *, where: str, kind: LightKind = "unknown") -> Light:
    """The light of a fixture as its file describes it, all emitters at full.

    The white emitter its beams name; else all emitters together, two whites kept apart so that
    the light can be dialled; else a light of its kind and colour temperature.

    where : name of the file, for errors
    kind  : what the person knows it to be; "unknown" for what the file says, if it does
    Raises  EvencastError where neither spectra nor a colour temperature are given, and for a
            discharge lamp without a spectrum
    """
    own = _KINDS.get(fixture.lamp, "unknown") if kind == "unknown" else kind
    white = _named_white(fixture)
    mixed = [each for each in fixture.emitters if each.spectrum is not None]
    if white is not None:
        light = _measured(fixture, white, own)
    elif mixed and len(mixed) == len(fixture.emitters):
        light = _mixture(fixture, mixed, own)
    else:
        light = _guessed(fixture, own, where=where)
    said = light.note, *fixture.remarks
    if fixture.lamp == "Discharge" and kind == "unknown":
        said = *said, "a discharge lamp by its file, taken as metal halide"
    return replace(
        light,
        name=fixture.name or where,
        kind=light.kind if kind == "unknown" else kind,
        fitting="fixture",
        note="; ".join(each for each in said if each),
    )


def _named_white(fixture: Fixture) -> Emitter | None:
    """The emitter that all beams name as their white light, if it has a spectrum."""
    names = {each.emitter for each in fixture.beams}
    found = [each for each in fixture.emitters if {each.name} == names]
    return found[0] if len(found) == 1 and found[0].spectrum is not None else None


def _measured(fixture: Fixture, emitter: Emitter, kind: LightKind) -> Light:
    assert emitter.spectrum is not None
    return replace(of_spectrum(fixture.name, emitter.spectrum), kind=kind)


def _mixture(fixture: Fixture, emitters: list[Emitter], kind: LightKind) -> Light:
    if len(emitters) == 1:
        return _measured(fixture, emitters[0], kind)
    powers, said = _at_full(emitters)
    total = powers.sum(axis=0)
    at_mired, duv = mired_duv(uv(powers))
    whites = len(emitters) == 2 and bool((np.abs(duv) <= WHITE_DUV).all())
    warm_first = powers[np.argsort(-at_mired)] if whites else powers[:0]
    return Light(
        name=fixture.name,
        kind=kind if whites else ("RGB LED" if kind == "phosphor LED" else kind),
        power=total / total.max(),
        note=f"its {len(emitters)} emitters all at full, {said}",
        emitters=tuple(each / each.max() for each in warm_first),
    )


def _at_full(emitters: list[Emitter]) -> tuple[Floats, str]:
    """Spectra of emitters in proportion, (n, 81), and by what."""
    spectra = np.array([each.spectrum.grid for each in emitters if each.spectrum is not None])
    candelas = [each.candela for each in emitters if each.candela is not None]
    if len(candelas) < len(emitters):
        return spectra, "in proportion to the energies in the file"
    luminance = xyz(spectra)[:, 1]
    return spectra * (np.array(candelas) / luminance)[:, None], "in proportion to their candelas"


def _guessed(fixture: Fixture, kind: LightKind, *, where: str) -> Light:
    if fixture.cct_k is None:
        fail(
            "gives neither the spectra of all emitters nor one colour temperature",
            where,
            'Read the light with a meter and write what it says, such as "5400K+0.002".',
        )
    if kind == "tungsten":
        return of_kelvin(fixture.cct_k, kind="tungsten")
    _, duv = mired_duv(white_uv(fixture.cct_k))
    return of_reading(fixture.cct_k, float(duv), kind=kind)
