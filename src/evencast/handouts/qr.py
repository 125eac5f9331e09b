"""QR codes as pictures that a phone reads off paper."""

from __future__ import annotations

import io
from dataclasses import dataclass

QUIET_MODULES = 4
"""White modules all round that belong to the code: ISO/IEC 18004, as read in segno's manual."""

LEAST_CODE_MM = 25.0
"""Side of the dark part: a phone reads it from an arm's length away."""
LEAST_MODULE_MM = 0.5
"""Side of one module: six dots of a printer of 300 to the inch."""


@dataclass(frozen=True, slots=True)
class QrCode:
    """A QR code.

    svg      : the picture, its quiet zone in it
    width_mm : how wide it is to be printed, the quiet zone counted
    """

    svg: str
    width_mm: float


def qr_code(text: str) -> QrCode:
    """A text as a QR code, at least a seventh of which may be spoiled (error correction M)."""
    import segno  # few documents have a code

    code = segno.make(text, error="m", micro=False)
    modules = code.symbol_size(border=0)[0]
    picture = io.BytesIO()
    code.save(
        picture,
        kind="svg",
        border=QUIET_MODULES,
        xmldecl=False,
        svgclass=None,
        lineclass=None,
        omitsize=True,
        dark="#000000",
        light="#ffffff",
        nl=False,
    )
    module_mm = max(LEAST_CODE_MM / modules, LEAST_MODULE_MM)
    width_mm = round(module_mm * (modules + 2 * QUIET_MODULES), 2)
    return QrCode(picture.getvalue().decode("ascii"), width_mm)
