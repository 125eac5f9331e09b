"""How bright a fixture is inside its beam, by what its file says of flux and angles."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evencast.media.gdtf import Beam, Fixture
from evencast.spectra.samples import fail

BELL_TO_HALF, BELL_TO_TENTH = math.log(2.0), math.log(10.0)
"""In the middle of a beam that falls off as a bell, against the same flux spread evenly up to
where the bell is down to a half, or to a tenth: the integral of a bell over a small solid angle."""
FILLED_IN_LM = 10_000.0
"""The format's own default, which programs write out as if it were known."""
NARROWEST_DEG = 0.1
"""No light that is hung has a narrower beam."""
ASK = "Take its candelas off the data sheet, or read the light with a meter and give the reading."


@dataclass(frozen=True, slots=True)
class BeamCandela:
    """Candelas in the middle of all beams together, least and most.

    told : by what, and what is assumed
    """

    low_cd: float
    high_cd: float
    told: str


def beam_candela(fixture: Fixture, *, where: str) -> BeamCandela:
    """Candelas as flux over the solid angle of the beam.

    With both angles all of the flux lies inside the field angle at least, and inside the beam angle
    at most; with one of them it is spread evenly inside it, or falls off as a bell that is down to
    a half at the beam angle, to a tenth at the field angle.

    where : name of the file, for errors
    Raises  EvencastError where flux, or both angles, are not in the file, or no beam is so narrow
    """
    beams = fixture.beams
    if not beams:
        fail("says nothing of beams, so nothing of how bright it is", where, ASK)
    dark = next((each for each in beams if each.flux_lm is None), None)
    if dark is not None:
        fail(f'does not say the flux of its beam "{dark.name}" (LuminousFlux)', where, ASK)
    wide = next((each for each in beams if each.beam_deg is None and each.field_deg is None), None)
    if wide is not None:
        fail(
            f'gives {wide.flux_lm:g} lm for its beam "{wide.name}", and neither a beam angle nor a '
            "field angle (BeamAngle, FieldAngle): nothing says how far that spreads",
            where,
            ASK,
        )
    ends = [_ends(each, where) for each in beams]
    spread = {told for *_, told in ends}
    told = [f"{fixture.flux_lm:g} lm"]
    told += spread if len(spread) == 1 else ["each beam by its own flux and angles"]
    return BeamCandela(
        sum(low for low, _, _ in ends),
        sum(high for _, high, _ in ends),
        "; ".join(told + _doubts(beams)),
    )


def solid_angle_sr(full_deg: float) -> float:
    """Of a cone, by the angle from one side to the other. [sr]"""
    return 4.0 * math.pi * math.sin(math.radians(full_deg) / 4.0) ** 2


def _ends(beam: Beam, where: str) -> tuple[float, float, str]:
    """Least and most candelas of one beam, and what is assumed."""
    flux_lm = beam.flux_lm or 0.0
    angles = sorted(each for each in (beam.beam_deg, beam.field_deg) if each is not None)
    if angles[0] < NARROWEST_DEG:
        fail(f'gives its beam "{beam.name}" a width of {angles[0]:g} degrees', where, ASK)
    narrow, wide = (flux_lm / solid_angle_sr(each) for each in (angles[0], angles[-1]))
    if narrow != wide:
        told = (
            f"at least as if all fell evenly inside its field angle of {angles[-1]:g} degrees, at "
            f"most as if inside its beam angle of {angles[0]:g} degrees"
        )
        return wide, narrow, told
    if beam.beam_deg is not None:
        told = (
            f"at most as if all fell evenly inside its beam angle of {angles[0]:g} degrees, at "
            "least as a bell that is down to a half there"
        )
        return BELL_TO_HALF * narrow, narrow, told
    told = (
        f"at least as if all fell evenly inside its field angle of {angles[0]:g} degrees, at most "
        "as a bell that is down to a tenth there"
    )
    return wide, BELL_TO_TENTH * wide, told


def _doubts(beams: tuple[Beam, ...]) -> list[str]:
    found = []
    if len(beams) > 1:
        found.append(f"its {len(beams)} beams are taken to point one way")
    if any(each.flux_lm == FILLED_IN_LM for each in beams):
        found.append(
            f"{FILLED_IN_LM:g} lm is what the format fills in by itself: check the data sheet"
        )
    return found
