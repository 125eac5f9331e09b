"""What the table builders share: the header, the number format and the digest."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from pathlib import Path

import numpy as np

DATA = Path(__file__).resolve().parent.parent / "src" / "evencast" / "data"
LIBRARY = "colour-science 0.4.7"
OBTAINED = "2026-11-25"


def digest(values: np.ndarray) -> str:
    """sha256 of values as little-endian doubles, the first 16 digits."""
    return hashlib.sha256(np.ascontiguousarray(values, dtype="<f8").tobytes()).hexdigest()[:16]


def table_text(header: Mapping[str, str], columns: Sequence[str], values: np.ndarray) -> str:
    """A table as it stands in the data folder: shortest decimals that read back the same."""
    lines = [f"# {key}: {entry}" for key, entry in header.items()]
    lines.append(",".join(columns))
    lines += [
        ",".join(np.format_float_positional(cell, trim="-") for cell in row) for row in values
    ]
    return "\n".join(lines) + "\n"


def provenance(
    *, title: str, source: str, builder: str, quantity: str, values: np.ndarray, checked: str
) -> dict[str, str]:
    """The header of a table taken over from the library's published data."""
    return {
        "title": title,
        "source": f"{source}; as carried by {LIBRARY} (BSD-3-Clause)",
        "licence": "BSD-3-Clause as carried by the library; facts of the cited publication",
        "obtained": f"{OBTAINED} by builders/{builder}.py, "
        f"sha256 of the original values {digest(values)}",
        "quantity": quantity,
        "changed": "nothing",
        "checked": checked,
    }


def write(texts: Mapping[str, str], *, folder: Path = DATA) -> None:
    """Put built tables into a folder, that of the packaged data unless another is named."""
    for name, text in texts.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8", newline="\n")
        print(f"wrote {name}.csv")
