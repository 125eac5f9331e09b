"""Measured lamp spectra under generic names.

Entries are picked by their place in the library's list and held to a digest of their
values, so that a change there fails here and not in somebody's plan.
"""

from __future__ import annotations

import colour
import numpy as np

from builders.table import digest, provenance, table_text, write

NIST = "lamp spectra of the NIST colour quality scale simulation, version 7.4 (Ohno and Davis 2008)"
POINTER = (
    "light spectra published with Pointer's gamut data (Pointer 1980), whose sheet does not "
    "say where they come from (the five among the library's first eight entries)"
)

Pick = tuple[int, str, str]
"""Place in the library's list, first digits of the digest, our name."""

TABLES: dict[str, tuple[str, str, list[Pick]]] = {
    "lamps_tubes": (
        "Measured fluorescent tubes",
        f"{NIST}; {POINTER}",
        [
            (41, "88c586", "cool white 4200 K"),
            (43, "b6f671", "warm white 3000 K"),
            (42, "6638ee", "light white 4150 K"),
            (9, "f133b9", "daylight 6500 K"),
            (47, "31970f", "daylight green 6450 K"),
            (44, "14e9af", "broad-band 5000 K"),
            (45, "eeb485", "broad-band 7400 K"),
            (46, "6bdefb", "broad-band 4000 K"),
            (49, "1862c6", "broad-band 3900 K"),
            (7, "b6265d", "broad-band 3950 K"),
            (36, "09af15", "three-band 2950 K"),
            (17, "7d884e", "three-band 3400 K"),
            (37, "5d4dc7", "three-band 3500 K"),
            (38, "d3453e", "three-band 3950 K"),
            (1, "1d23f6", "three-band 4100 K"),
            (39, "45adf4", "three-band 5050 K"),
            (40, "892fff", "three-band 6200 K"),
            (4, "9df67c", "white 3350 K"),
            (5, "a7a019", "three-band 3150 K"),
            (6, "03770f", "three-band 4090 K"),
        ],
    ),
    "lamps_discharge": (
        "Measured discharge lamps",
        NIST,
        [
            (34, "36067e", "sodium high pressure 1950 K"),
            (10, "a1aacc", "sodium high pressure 2050 K"),
            (35, "32e9d9", "sodium improved 2250 K"),
            (54, "b1cf3a", "sodium white 2500 K"),
            (12, "ad1f73", "sodium low pressure"),
            (50, "b3850f", "mercury clear"),
            (51, "6c5b25", "mercury coated"),
            (52, "76b97f", "metal halide 3000 K"),
            (53, "c6f14a", "metal halide 4150 K"),
            (14, "77de82", "metal halide 4300 K"),
        ],
    ),
    "lamps_xenon": (
        "Measured xenon arc of a film projector",
        "private communication to the authors of the library, not published elsewhere",
        [(55, "6aa95d", "xenon projector")],
    ),
    "lamps_led": (
        "Phosphor LEDs and mixed LED chips; the mixes of three and four chips are modelled",
        NIST,
        [
            (27, "4f62e9", "phosphor 2900 K green"),
            (28, "aadea1", "phosphor 3000 K"),
            (29, "1c37f2", "phosphor 3000 K greenish"),
            (32, "5c018c", "phosphor 6800 K"),
            (18, "4164fc", "three chips 457-540-605"),
            (19, "477bfa", "three chips 473-545-616"),
            (21, "fa99a1", "three chips 465-546-614"),
            (22, "ac09de", "three chips 455-547-623"),
            (25, "5a527c", "four chips 461-526-576-624"),
            (26, "1219db", "four chips 447-512-573-627"),
        ],
    ),
    "lamps_incandescent": (
        "Measured incandescent bulbs",
        NIST,
        [(11, "ff216d", "filament bulb"), (15, "0a909f", "filament bulb neodymium glass")],
    ),
}


def build() -> dict[str, str]:
    """Table name to text."""
    carried = list(colour.SDS_LIGHT_SOURCES.values())
    texts = {}
    for name, (title, source, picks) in TABLES.items():
        spectra = [carried[place] for place, _, _ in picks]
        for (place, known, ours), spectrum in zip(picks, spectra, strict=True):
            assert digest(spectrum.values).startswith(known), (place, ours, digest(spectrum.values))
        values = np.column_stack([spectra[0].wavelengths, *(each.values for each in spectra)])
        header = provenance(
            title=title,
            source=source,
            builder="lamps",
            quantity="relative spectral power, each lamp at its own scale",
            values=values,
            checked="tests/test_builders.py",
        )
        header["originals"] = "; ".join(
            f"{ours} = entry {place + 1} of the library's light sources" for place, _, ours in picks
        )
        texts[name] = table_text(header, ["wavelength_nm", *(each[2] for each in picks)], values)
    return texts


if __name__ == "__main__":
    write(build())
