"""What is told of a picture: patches under a light, bare and through sheets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencast.camera.patches import Patch
from evencast.results.light import Band

Exposure = Literal["held", "compensated"]

__all__ = ["Exposure", "LookAnswer", "Patch", "PictureAnswer"]


@dataclass(frozen=True)
class PictureAnswer:
    """What a balanced camera makes of a light, bare and through a stack. Where spectra are not
    measured, every value and every patch is the middle of what they may be.

    balance      : as it is said, "3200 K" or "4300 K, Duv +0.0040"
    camera       : "eye", "camera A", "camera B", or the name of the person's own
    display      : what the colours are encoded for: "sRGB", "Rec. 709" or "Display P3"
    exposure     : "held", the stop metered under the bare light; or "compensated", so that the
                   meter reads the same through the sheets
    bare, filtered : grey, light skin, dark skin, then the chart
    residual_mired, residual_duv : a neutral card to the eye, beside the balance: + warmer; and
                   + greener, each Duv counted from the white of its own Kelvin, since daylight is
                   not green; None where there is no CCT; bare_... under the bare light
    residual_rg_stops, residual_bg_stops : of a neutral card in the camera's balanced raw, + redder
                   and + bluer; None for the eye; bare_... under the bare light
    loss_stops   : what the sheets take, as the eye sees it
    band         : 5th and 95th percentile of the six residuals and of the loss, where spectra are
                   not measured; else None
    notes        : what to know beside the picture
    """

    light: str
    filters: list[str]
    balance: str
    camera: str
    display: str
    exposure: Exposure
    bare: list[Patch]
    filtered: list[Patch]
    bare_residual_mired: float | None
    bare_residual_duv: float | None
    residual_mired: float | None
    residual_duv: float | None
    bare_residual_rg_stops: float | None
    bare_residual_bg_stops: float | None
    residual_rg_stops: float | None
    residual_bg_stops: float | None
    loss_stops: float
    band: Band | None
    notes: list[str]
    cautions: list[str]


@dataclass(frozen=True)
class LookAnswer:
    """`look light`: one picture for each balance.

    written_to : the file the pictures were drawn to; None if none was asked for
    """

    pictures: list[PictureAnswer]
    written_to: str | None = None
