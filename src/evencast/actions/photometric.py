"""Files that say how bright a light is: photometric ones, and fixtures by flux and beam."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from evencast.results.expose import Range
from evencast.store.files import read_bytes

ENDINGS = (".ies", ".ldt", ".gdtf")


@dataclass(frozen=True, slots=True)
class FileCandela:
    """How bright a light is by its file.

    candela  : least and most
    known_by : what the file is
    assumed  : by what the candelas were worked out, where the file has none; else ""
    remarks  : what was made out about the file, phrases without a full stop
    size_m   : greatest width of what shines; None where the file does not say
    """

    candela: Range
    known_by: str
    assumed: str
    remarks: tuple[str, ...]
    size_m: float | None


def is_photometric(text: str) -> bool:
    """Whether a text names such a file, by how it ends."""
    return text.casefold().endswith(ENDINGS)


def candela_of_file(path: Path) -> FileCandela:
    """The candelas of a photometric file at its brightest, or of a fixture in its beam.

    Raises  EvencastError where it cannot be read, is none, or does not say enough
    """
    if path.suffix.casefold() == ".gdtf":
        return _of_fixture(path)
    from evencast.media.distribution import peak  # few questions come with a file
    from evencast.media.eulumdat import parse_eulumdat
    from evencast.media.lm63 import parse_lm63

    parse = parse_lm63 if path.suffix.casefold() == ".ies" else parse_eulumdat
    light = parse(read_bytes(path), where=str(path))
    candela = peak(light).candela
    return FileCandela(
        (candela, candela),
        f"{path.name} ({light.standard}) at its brightest, {candela:.0f} cd",
        "",
        light.remarks,
        light.opening.largest_m or None,
    )


def _of_fixture(path: Path) -> FileCandela:
    from evencast.media.beams import beam_candela
    from evencast.media.gdtf import parse_gdtf

    fixture = parse_gdtf(read_bytes(path), where=str(path))
    found = beam_candela(fixture, where=str(path))
    return FileCandela(
        (found.low_cd, found.high_cd),
        f"{path.name} (GDTF), {found.low_cd:.0f} to {found.high_cd:.0f} cd",
        found.told,
        fixture.remarks,
        None,
    )
