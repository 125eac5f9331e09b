"""The letters of the app's pages: the documents' fonts with fewer characters, small enough to go to
a phone with every page. Characters left out are drawn in a font of the device.

python -m builders.web_fonts
"""

from __future__ import annotations

import io
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from builders.fonts import FONTS

STATIC = Path(__file__).resolve().parent.parent / "src" / "evencast" / "web" / "static"

CHARACTERS = frozenset(
    [
        *range(0x20, 0x7F),
        *range(0xA0, 0x180),  # the Latin letters of Europe
        *range(0x2010, 0x2030),  # dashes, quotation marks, the ellipsis
        *map(ord, "′″€←↑→↓−≈≤≥Δ"),
    ]
)


def build() -> dict[str, bytes]:
    """The files by their names."""
    return {
        "inter-regular.woff": _smaller(FONTS / "Inter-Regular.otf"),
        "inter-semibold.woff": _smaller(FONTS / "Inter-SemiBold.otf"),
    }


def _smaller(font: Path) -> bytes:
    """The same letters in the same measures, without hints, which screens of today do not need."""
    options = Options()
    options.layout_features = ["kern", "tnum", "ccmp", "locl", "mark", "mkmk"]
    options.hinting = False
    options.name_IDs = ["*"]
    with TTFont(font, recalcTimestamp=False) as opened:
        subsetter = Subsetter(options)
        subsetter.populate(unicodes=CHARACTERS)
        subsetter.subset(opened)
        opened.flavor = "woff"
        written = io.BytesIO()
        opened.save(written)
    return written.getvalue()


def write() -> None:
    """Put the files where the pages take them from."""
    for name, content in build().items():
        (STATIC / name).write_bytes(content)


if __name__ == "__main__":
    write()
