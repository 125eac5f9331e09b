"""Quality of light: how colours look under it, and how like the natural light it is.

Every index is measured against a reference of the light's own colour temperature, so none
of them says anything about the colour of the light itself. All are nan where a light has no
colour temperature, and above 25 000 K, where CIE daylight, their reference, ends.

CIE 13.3 takes its index for doubtful where light and reference differ by more than 0.0054
in CIE 1960 u, v. Beyond `WHITE_DUV` the numbers still come out, but they judge a coloured
light as if the eye had adapted to it as to a white.
"""

from evencast.colour.fidelity.cri import cri
from evencast.colour.fidelity.ssi import (
    SSI_NM,
    ssi,
    ssi_name,
    ssi_reference,
    ssi_samples,
    ssi_samples_of_grid,
)
from evencast.colour.fidelity.tm30 import tm30

WHITE_DUV = 0.0054
"""How far from the white of its Kelvin a light may be judged by these. [CIE 1960 u, v]

The bound of CIE 13.3-1995; none that differs is known for the others."""

__all__ = [
    "SSI_NM",
    "WHITE_DUV",
    "cri",
    "ssi",
    "ssi_name",
    "ssi_reference",
    "ssi_samples",
    "ssi_samples_of_grid",
    "tm30",
]
