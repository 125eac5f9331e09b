"""How to read the reference: what its numbers, bands and pictures are, and their conditions."""

from __future__ import annotations

from collections.abc import Sequence

from evencast.actions.picture import COMPUTED, TWO_CAMERAS
from evencast.camera.sensitivities import CAMERAS
from evencast.quantities import listed
from evencast.results.card import CardAnswer, CardRow
from evencast.spectra import MEMBERS

LIMITED = (
    "A ring in a picture marks a colour beyond what sRGB shows: it is drawn paler, or as white, "
    "at its own brightness."
)
_DUV_WORDS = (
    "Duv under 0.0005 is called neutral, to 0.0015 a trace, to 0.003 a little, to 0.006 clearly, "
    "beyond that strongly green or magenta"
)


def how_to_read(answer: CardAnswer) -> list[tuple[str, str]]:
    """Headings, and what stands under each."""
    balances = listed([f"{each:.0f} K" for each in answer.balances_k])
    return [
        (
            "One filter, one lamp",
            "A filter has no shift of its own: every number belongs to this filter in front of the "
            "lamp named with it. In front of another lamp it does something else, and the line "
            "Elsewhere says what.",
        ),
        (
            "Shift and what comes out",
            "In mired, which are 1 000 000 divided by kelvin: equal steps look about equal. "
            "Warmer is toward orange, cooler toward blue. Half the way means half of the 134 mired "
            "between 3200 K and 5600 K; names such as half or full are names, not fractions.",
        ),
        (
            "Duv shift",
            "How far the filter moves the light off the line of glowing bodies (CIE 1960 u, v), "
            f"+ greener and - more magenta. {_DUV_WORDS}. White itself has a Duv of 0 at 3200 K "
            "and of +0.003 at 5600 K, so a clean way from one to the other shows such a shift: "
            "what comes out is therefore called green or magenta beside the white of its kelvin.",
        ),
        (
            "Loss, passes, factor",
            "Loss is in stops, in thirds as on an iris, and in decimals; it is what a meter loses. "
            "A camera, which sees red, green and blue apart, may lose a third of a stop more or "
            "less through a strong colour: trust a test frame. Passes is the share of the light "
            "that is left, 2 to the power of minus the loss; the factor is 1 divided by that.",
        ),
        ("The band", _band(answer.rows)),
        (
            "The pictures",
            f"{COMPUTED} Each shows a grey card, a light and a dark skin, left bare, right through "
            f"the filter, with the camera balanced to {balances}. The stop is held as metered for "
            f"the bare light, so that what the filter takes is seen. {_sight(answer.camera)} "
            f"{LIMITED}",
        ),
        ("Conditions", _conditions()),
    ]


def _band(rows: Sequence[CardRow]) -> str:
    told = (
        f"Behind a value stands, in brackets, the band: nine in ten of {MEMBERS} spectra that the "
        "sheet may have by what is known of it. The value is the middle one."
    )
    if any(each.band is None for each in rows):
        told += " A measured sheet has no band; its error is that of the measurement."
    return told + " To narrow a band, meter the sheet or measure its spectrum."


def _sight(camera: str) -> str:
    if camera == "eye":
        return "They are drawn as the eye sees, not as any one camera does."
    seen = f"They are drawn as {camera} sees."
    return f"{seen} {TWO_CAMERAS}" if camera in CAMERAS[1:] else seen


def _conditions() -> str:
    return (
        "Observer: CIE 1931, 2 degrees; sums at 5 nm from 380 to 780 nm. N kelvin stands for a "
        "glowing body below 4000 K, CIE daylight above 5000 K, and the blend of both between, as "
        "in ANSI/IES TM-30. Loss is luminous: a meter that follows the eye reads it; two meters "
        "may differ by a third of a stop, which cancels when bare and filtered light are read "
        "with one. Two sheets of one name differ, and a sheet fades: measure your own."
    )
