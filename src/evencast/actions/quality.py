"""What the indices of quality mean: for skin, and for cutting with other lights on camera.

The limits are common practice, no source, unless said. An index of reds alone says that
they are off; TM-30's chroma shift says whether they are dulled or overdone. All are judged
as they are shown, in whole numbers, so that one number never means two things.
"""

from __future__ import annotations

from evencast.lights import Light
from evencast.results.light import LightReading

FAITHFUL = ((95.0, "true"), (90.0, "close to true"))
FAIR_RF, POOR_RF = 80.0, 70.0
GOOD_R9, FAIR_R9, POOR_R9 = 90.0, 50.0, 0.0
RED_SHIFT = 2.0
"""Reds over this many percent more or less saturated are called so."""

GAMUT_SHIFT = 3.0
SAME_SSI, SAFE_SSI, TEST_SSI, UNLIKE_SSI = 95.0, 90.0, 75.0, 50.0
TUNGSTEN_K = (2500.0, 3400.0)
LOWEST_SAMPLE_NM, HIGHEST_SAMPLE_NM = 380.0, 675.0


def in_words(light: Light, reading: LightReading) -> list[str]:
    """One sentence each on colours, skin and cutting, and on what keeps them from being said."""
    from evencast.colour.fidelity import WHITE_DUV

    if light.assumed:
        return [
            "How it shows colours is not known: only a reading is, and lamps that read alike "
            "may differ widely."
        ]
    if reading.state == "no_cct":
        return ["It is too far from white for any index of quality."]
    if reading.ssi is None or reading.rf is None or reading.ra is None:
        return ["Above 25 000 K the indices of quality have nothing to compare it with."]
    far = abs(reading.green_duv or 0.0) > WHITE_DUV
    said = [_far(light, reading) if far else "", _colours(reading), _reds(reading)]
    return [each for each in (*said, _cutting(reading), _samples(light)) if each]


def _far(light: Light, reading: LightReading) -> str:
    """That a light is no white, by the bound of CIE 13.3-1995."""
    side = "green" if (reading.green_duv or 0.0) > 0 else "magenta"
    told = f"Too {side} for a white, which the indices are made for: take them with care."
    return told if light.lacks_colours else f"{told} Correct it first, then judge what is left."


def _colours(reading: LightReading) -> str:
    fidelity, gamut = round(reading.rf or 0.0), round(100.0 if reading.rg is None else reading.rg)
    if fidelity < POOR_RF:
        told = "Colours are badly off"
    elif fidelity < FAIR_RF:
        told = "Many colours are off"
    elif fidelity < FAITHFUL[-1][0]:
        told = "Most colours come out well, some are off"
    else:
        told = f"Colours are {next(word for limit, word in FAITHFUL if fidelity >= limit)}"
    told += f" (Rf {fidelity})"
    if abs(gamut - 100.0) <= GAMUT_SHIFT:
        return f"{told}."
    return f"{told}, on the whole {'overdone' if gamut > 100 else 'washed out'} (Rg {gamut})."


def _reds(reading: LightReading) -> str:
    """What becomes of reds, and so of skin."""
    index, shift = round(reading.r9 or 0.0), round(reading.rcs_h1 or 0.0)
    if index >= GOOD_R9:
        return f"Reds and skin are as they should be (R9 {index})."
    size = "a little " if index >= FAIR_R9 else "" if index >= POOR_R9 else "badly "
    side = "more" if shift > 0 else "less"
    measured = f"(R9 {index}, reds {abs(shift)} % {side} saturated)"
    if shift > RED_SHIFT:
        return f"Reds are {size}overdone and skin turns ruddy {measured}."
    if shift < -RED_SHIFT:
        return f"Reds are {size}dulled and skin turns {_dull(index)} {measured}."
    return f"Reds are {size}off in hue, and skin with them (R9 {index})."


def _dull(index: int) -> str:
    if index >= FAIR_R9:
        return "a little flat"
    return "flat and pale" if index >= POOR_R9 else "grey"


def _cutting(reading: LightReading) -> str:
    """How safely it stands beside the light it imitates, whatever the camera."""
    index = round(reading.ssi or 0.0)
    kind, _, kelvin = (reading.ssi_reference or "").rpartition(" K")[0].rpartition(" ")
    other = f"daylight of {kelvin} K"
    if kind == "blackbody":
        usual = TUNGSTEN_K[0] <= float(kelvin) <= TUNGSTEN_K[1]
        other = f"tungsten light {'of' if usual else 'brought to'} {kelvin} K"
    told = f"(SSI {index})"
    if index >= SAME_SSI:
        return f"On any camera it cuts with {other} as if it were that {told}."
    if index >= SAFE_SSI:
        return f"It cuts safely with {other} {told}."
    if index >= TEST_SSI:
        return f"It cuts with {other} if a test frame agrees {told}."
    if index >= UNLIKE_SSI:
        return (
            f"Do not trust it to cut with {other} {told}: cameras differ on it, so test yours "
            "on a face."
        )
    return (
        f"It will not cut with {other} {told}: every camera sees it its own way, and no filter "
        "mends that."
    )


def _samples(light: Light) -> str:
    """A measurement that leaves part of what the index compares in the dark."""
    if light.spectrum is None:
        return ""
    start_nm, end_nm = light.spectrum.wavelengths_nm[0], light.spectrum.wavelengths_nm[-1]
    if start_nm <= LOWEST_SAMPLE_NM and end_nm >= HIGHEST_SAMPLE_NM:
        return ""
    return (
        f"It was measured from {start_nm:g} to {end_nm:g} nm alone; the SSI takes the rest of "
        "375 to 675 nm as dark."
    )
