"""What is told of a stack in front of a light."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.results.light import Band, LightReading


@dataclass(frozen=True)
class ThroughAnswer:
    """`through`: what a stack does to a light. Where spectra are not measured, every value is
    the middle of what the sheets and the light may do.

    shift_mired : filtered minus bare, + warmer; None where either has no CCT
    shift_duv   : filtered minus bare, + greener
    loss_stops  : light lost
    nominal     : False only if every sheet in the stack was measured
    band        : of shift_mired, shift_duv, loss_stops and of the filtered light's cct_k,
                  mired and duv; None where every spectrum was measured
    notes       : what to know beside the numbers
    written_to  : the file the stack's transmittance was written to; None if none was asked for
    """

    light: str
    filters: list[str]
    bare: LightReading
    filtered: LightReading
    shift_mired: float | None
    shift_duv: float | None
    loss_stops: float
    nominal: bool
    band: Band | None
    notes: list[str]
    cautions: list[str]
    written_to: str | None = None
