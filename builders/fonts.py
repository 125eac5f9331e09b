"""Which characters the fonts of the documents have: written from the fonts themselves.

python -m builders.fonts
"""

from __future__ import annotations

import hashlib
from pathlib import Path

import numpy as np
from fontTools.ttLib import TTFont

from builders.table import DATA, digest, table_text, write

FONTS = DATA / "fonts"


def build() -> dict[str, str]:
    """The table by its name."""
    files = sorted([*FONTS.glob("*.otf"), *FONTS.glob("*.ttf")])
    characters = set.intersection(*(_characters(each) for each in files if "Inter" in each.name))
    for each in files:
        if "Inter" not in each.name:
            characters |= _characters(each)
    digests = ", ".join(
        f"{each.name} {hashlib.sha256(each.read_bytes()).hexdigest()[:16]}" for each in files
    )
    values = _ranges(characters)
    header = {
        "title": "Characters that the fonts of the documents have, as ranges of code points",
        "source": f"the character maps of the fonts in data/fonts (LICENCES.txt there): {digests}",
        "licence": "BSD-3-Clause; facts of the fonts",
        "obtained": f"2026-11-26 by builders/fonts.py, sha256 of the values {digest(values)}",
        "quantity": "Unicode code point, first and last of a range",
        "changed": "nothing",
        "checked": "tests/unit/handouts/test_text.py",
    }
    return {"font_coverage": table_text(header, ("first", "last"), values)}


def _characters(font: Path) -> set[int]:
    with TTFont(font) as opened:
        return set(opened.getBestCmap())


def _ranges(characters: set[int]) -> np.ndarray:
    ends: list[list[int]] = []
    for code in sorted(characters):
        if ends and code == ends[-1][1] + 1:
            ends[-1][1] = code
        else:
            ends.append([code, code])
    return np.array(ends, dtype=float)


if __name__ == "__main__":
    write(build())
