"""Lights known by numbers: N Kelvin, a meter's reading, or a camera's balance."""

from __future__ import annotations

import numpy as np

from evencast.colour import Locus, check_kelvin, locus_of, mired_duv, white, white_uv
from evencast.errors import EvencastError
from evencast.lights.bases import STAND_INS, bases_of
from evencast.lights.catalogue import builtin_of_kind
from evencast.lights.guess import guess
from evencast.lights.kinds import REFUSED_KINDS, TUBES
from evencast.lights.light import Light, LightKind
from evencast.lights.tint import say_tint
from evencast.quantities import Floats, mired
from evencast.spectra import Spectrum, normal

METER_SHARE = 0.01
METER_DUV = 0.001
"""What a colour meter may be off by, one standard deviation: 1 percent of the Kelvin, and in
Duv. Common practice, no source."""

CAMERA_MIRED = 15.0
CAMERA_DUV = 0.006
"""How far a camera's neutral may lie from the eye's, one standard deviation: what two published
sensitivities give over the built-in lamps that are no discharge lamps
(tests/laws/test_readings_camera.py)."""

TINT_STEP_DUV = 0.001
TINT_STEP_FACTOR = 2.0
"""One step of a camera's tint in Duv, and the factor it may be out by either way: cameras and
raw converters use anything from 1/3000 to 0.002. Common practice, no source."""

WORST_GUESS_MIRED = 50
"""How far off the effect of a sheet was on a discharge lamp guessed from its reading, at worst,
each built-in one left out in turn (tests/laws/test_readings.py). [mired]"""

_KIND_OF_LOCUS = {"planckian": "Planckian", "daylight": "daylight", "blend": "blend"}


def of_kelvin(cct_k: float, *, locus: Locus | None = None, kind: LightKind = "unknown") -> Light:
    """The light of N Kelvin: exactly that locus, not a guess at a lamp.

    kind : what the person says it is: a label, for the cautions
    Raises  EvencastError for a discharge lamp, which no Kelvin describes
    """
    _refuse_discharge(kind, where=f"{cct_k:g}K")
    named = locus or locus_of(cct_k)
    follows = kind in ("unknown", "tungsten", "daylight")
    return Light(
        name=f"{cct_k:g}K",
        kind=_KIND_OF_LOCUS[named] if kind == "unknown" else kind,
        power=white(cct_k, locus=named),
        assumed=not follows,
        fitting="tube" if kind in (*TUBES, "tube") else "",
        note=""
        if follows
        else f"exactly the white of {cct_k:g} K, not the spectrum of a lamp of the kind {kind}: "
        f"write {cct_k:g}K with the Duv that was read for one",
    )


def of_spectrum(name: str, spectrum: Spectrum) -> Light:
    """A light of which the spectrum was measured, brought to a peak of 1."""
    power = spectrum.grid / spectrum.grid.max()
    return Light(name=name, kind="unknown", power=power, spectrum=spectrum)


def of_reading(cct_k: float, duv: float, *, kind: LightKind = "unknown") -> Light:
    """A light of which a meter's reading is known, and what it is.

    Its spectrum is the mean of the built-in lamps of that kind, each bent to the reading; what
    it may be is drawn from them, within what the meter may be off by.

    cct_k : 1000 to 100 000
    duv   : within 0.05
    kind  : "unknown" allows for everything but discharge lamps
    Raises  EvencastError where no lamp of the kind can read so, and for discharge lamps
    Error   the reading to 1e-7 uv. The effect of filters on the real lamp: within the 5 to 95
            percent of `possible` for nine lamps in ten (docs/accuracy.md#readings)
    """
    where = f"{cct_k:g}K{duv:+g}"
    check_kelvin(cct_k)
    doubt = normal(f"meter {where}", 2) * np.array([METER_SHARE * mired(cct_k), METER_DUV])
    return _guessed(where, mired(cct_k), duv, doubt, kind, source="")


def of_camera(
    cct_k: float,
    *,
    toward_magenta: float = 0.0,
    step_duv: float | None = None,
    kind: LightKind = "unknown",
) -> Light:
    """A light that looks neutral to a camera balanced so; as `of_reading`, with a wider band.

    cct_k : the camera's Kelvin, 1000 to 100 000: the white of that Kelvin where it has no tint
    toward_magenta : steps of tint by which the camera moves its picture toward magenta, so that
            the light is that much greener; negative toward green
    step_duv : Duv of one step of this camera; None where it was never measured
    Raises  EvencastError as `of_reading`
    """
    tint = "" if toward_magenta == 0 else f" {say_tint(toward_magenta)}"
    name = f"camera {cct_k:g}K{tint}"
    _, white_duv = mired_duv(white_uv(cct_k))
    draws = normal(name, 3)
    steps = toward_magenta * (step_duv or TINT_STEP_DUV)
    factors = 1.0 if step_duv else TINT_STEP_FACTOR ** draws[:, 2]
    doubt = np.column_stack(
        [CAMERA_MIRED * draws[:, 0], CAMERA_DUV * draws[:, 1] + steps * (factors - 1.0)]
    )
    source = (
        f"it was read off a camera, which may differ from a meter by {CAMERA_MIRED:g} mired and "
        f"{CAMERA_DUV:g} Duv" + ("" if step_duv or not tint else ", and its tint steps are unknown")
    )
    return _guessed(name, mired(cct_k), float(white_duv) + steps, doubt, kind, source=source)


def _guessed(
    name: str, at_mired: float, duv: float, doubt: Floats, kind: LightKind, *, source: str
) -> Light:
    _refuse_discharge(kind, where=name)
    bases = bases_of(kind, 1e6 / at_mired)
    found = guess(bases, at_mired=at_mired, duv=duv, doubt=doubt, key=f"{kind} {name}")
    if found is None:
        of_kind = "" if kind == "unknown" else f" of the kind {kind}"
        raise EvencastError(
            f"no lamp{of_kind} reads {1e6 / at_mired:.0f} K with a Duv of {duv:+.3g}",
            where=name,
            remedy="Check the reading (near white, Duv is rarely beyond 0.01), or give a spectrum.",
        )
    return Light(
        name=name,
        kind=kind,
        power=found.nominal,
        assumed=True,
        fitting="tube" if kind in (*TUBES, "tube") else "",
        note="; ".join(each for each in (_known_by(kind, found.lamps), source) if each),
        possible=found.possible,
    )


def _known_by(kind: LightKind, lamps: int) -> str:
    """What the spectrum of a light rests on, for the person."""
    if kind == "unknown":
        return (
            "only a reading is known, not what the lamp is, so the band allows for tungsten, "
            "daylight, LED and tube, and not for discharge lamps; look at it (tube, LED, bulb?) "
            "and name its kind to narrow the band"
        )
    if kind in STAND_INS:
        return (
            f"only a reading is known, and too few {kind} lamps are built in: {lamps} spectra of "
            f"{' and '.join(STAND_INS[kind])} stand in, so take the band with care"
        )
    if kind == "tube":
        return (
            "only a reading is known, not which tube, so the band allows for three-band, "
            "halophosphate and broad-band ones; name its kind to narrow it"
        )
    return (
        f"only a reading is known: the spectrum is the mean of {lamps} of the kind {kind}, each "
        "bent to the reading"
    )


def _refuse_discharge(kind: str, *, where: str) -> None:
    """Raise an EvencastError for kinds of which a reading tells nothing."""
    if kind not in REFUSED_KINDS:
        return
    raise EvencastError(
        f"a reading does not tell the spectrum of a {kind} lamp",
        where=where,
        remedy=f"Its lines differ from lamp to lamp: with a guess, a sheet was up to "
        f"{WORST_GUESS_MIRED} mired off. Give a file of its spectrum, such as ./lamp.csv, or the "
        "built-in lamp that is most like it: "
        + ", ".join(light.name for light in builtin_of_kind(kind))
        + ".",
    )
