"""From what a person writes on the command line to lights, filters and aims.

Files are read here, through the store; everything below takes values.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from evencast.actions.kit import LoadedKit
from evencast.colour import is_real_xy, uv, uv_of_xy, white_uv
from evencast.errors import EvencastError
from evencast.filters import Filter, generic, stack
from evencast.lights import Light, LightKind, kind_named, light_of, of_spectrum, parse_kelvin
from evencast.solver.aim import Aim, aim_at_kelvin, aim_at_look, aim_at_uv, aim_beside
from evencast.spectra import read_spectrum
from evencast.store.files import read_bytes, read_text

if TYPE_CHECKING:  # few aims are looks
    from evencast.lights.looks import Look

AIM_FORMS = (
    '5600K, 5600K+0.003, balance-30mired, "like LIGHT", "like FILTER on LIGHT", '
    '"look moonlight, discreet" or 0.33,0.34; each may end in +0.5stop'
)

_LIKE = re.compile(r"like\s+(?:(?P<filter>.+)\s+on\s+)?(?P<light>.+)", re.IGNORECASE)

LONGEST_TEXT = 1000
"""Letters in anything named on the command line: longer texts are a slip or mean harm."""
MOST_STOPS = 20.0
"""More than any meter spans between the key and another light."""


def is_path(text: str) -> bool:
    """Whether a text names a file: a slash in it, or the ending of one that is read."""
    return "/" in text or "\\" in text or text.casefold().endswith((".csv", ".spdx", ".gdtf"))


def _check_length(text: str, where: str) -> None:
    if len(text) > LONGEST_TEXT:
        raise EvencastError(
            f"{len(text)} letters are too many",
            where=where,
            remedy=f"Write at most {LONGEST_TEXT}; `evencast --help` shows the forms.",
        )


def light(text: str, kind: str | None = None) -> Light:
    """The light a text names: built in, by numbers, or a file of its spectrum.

    kind : what the person knows it to be: picks the spectra for a reading, labels a file
    """
    known = "unknown" if kind is None else kind_named(kind)
    if not is_path(text):
        _check_length(text, "light")
        return light_of(text, kind=known)
    return measured_light(Path(text), name=Path(text).stem, kind=known, where=text)


def measured_light(path: Path, *, name: str, kind: LightKind, where: str) -> Light:
    """A light from a file of its spectrum, or of its fixture (GDTF); the note tells what was made
    out about the file.

    kind  : what the person knows it to be; "unknown" for what the file says, if it does
    where : name of the file, for errors
    """
    if path.suffix.casefold() == ".gdtf":
        from evencast.media.fixture import light_of_fixture  # few lights come as a fixture's file
        from evencast.media.gdtf import parse_gdtf

        fixture = parse_gdtf(read_bytes(path), where=where)
        return light_of_fixture(fixture, kind=kind, where=where)
    file = read_spectrum(read_text(path).text, quantity="power", where=where)
    return replace(of_spectrum(name, file.spectrum), kind=kind, note=file.note)


def measured_filter(path: Path, *, name: str) -> Filter:
    """A filter from a file of its transmittance; the note tells what was made out about it."""
    file = read_spectrum(read_text(path).text, quantity="transmittance", where=str(path))
    return Filter(name, "correction", file.transmittance, measured=True, note=file.note)


def filter_named(text: str, kit: LoadedKit | None) -> Filter:
    """The filter a text names: in the kit, built in, or a file of its transmittance."""
    if is_path(text):
        return measured_filter(Path(text), name=Path(text).stem)
    _check_length(text, "filters")
    own = kit.find(text) if kit else None
    return own or generic(text)


def aim(text: str, *, balance: str | None, kit: LoadedKit | None) -> Aim:
    """The aim a text names.

    Raises  EvencastError naming the forms that are accepted
    """
    _check_length(text, "--aim")
    body, stops = _split_stops(text.strip())
    found = (
        _kelvin_aim(body)
        or _balance_aim(body, balance)
        or _look_aim(body, balance)
        or _like_aim(body, kit)
        or _xy_aim(body)
    )
    if found is None:
        raise EvencastError(f'"{text}" is not an aim', where="--aim", remedy=f"Write {AIM_FORMS}.")
    return replace(found, label=text, stops=found.stops if stops is None else stops)


def look_in(text: str) -> Look | None:
    """The look that an aim names; None for other aims."""
    match = re.fullmatch(r"look\s+(.+)", _split_stops(text.strip())[0], re.IGNORECASE)
    if match is None:
        return None
    from evencast.lights.looks import look

    return look(match[1])


@lru_cache(256)
def balance_aim(text: str) -> Aim:
    """The camera's balance as an aim: the white of that Kelvin, or Kelvin and Duv. A person drags
    over the same ones again and again."""
    _check_length(text, "--balance")
    found = _kelvin_aim(text)
    if found is None:
        raise EvencastError(
            f'"{text}" is not a balance', where="--balance", remedy="Write 4300K or 4300K+0.002."
        )
    return found


def _split_stops(text: str) -> tuple[str, float | None]:
    """The aim and the level at its end; "like tungsten -1stop" names a dimmed light instead."""
    match = re.fullmatch(r"(.+?)\s*([+-]\d*\.?\d+)\s*stops?", text, re.IGNORECASE)
    dimmed_like = text.casefold().startswith("like ") and match and match[1] + match[2] not in text
    if match is None or parse_kelvin(text) is not None or dimmed_like:
        return text, None
    stops = float(match[2])
    if abs(stops) > MOST_STOPS:
        raise EvencastError(
            f"{stops:g} stops from the key is no level",
            where="--aim",
            remedy=f"Write a level within {MOST_STOPS:g} stops, such as +0.5stop.",
        )
    return match[1], stops


def _kelvin_aim(text: str) -> Aim | None:
    parsed = parse_kelvin(text)
    if parsed is None:
        return None
    cct_k, duv = parsed
    if duv is not None:
        return aim_at_kelvin(text, cct_k, duv)
    return aim_at_uv(text, white_uv(cct_k))


def _balance_aim(text: str, balance: str | None) -> Aim | None:
    match = re.fullmatch(r"balance\s*(?:([+-]\d*\.?\d+)\s*mired)?", text, re.IGNORECASE)
    if match is None:
        return None
    at = _needed(balance, text)
    return aim_beside(at, label=text, mired_offset=float(match[1] or 0))


def _look_aim(text: str, balance: str | None) -> Aim | None:
    wanted = look_in(text)
    if wanted is None:
        return None
    return aim_at_look(
        _needed(balance, text),
        label=text,
        mired_offset=wanted.mired,
        duv_offset=wanted.duv,
        stops=wanted.stops or 0.0,
    )


def _needed(balance: str | None, text: str) -> Aim:
    """The balance that an aim is an offset from."""
    if balance is None:
        raise EvencastError(
            f'"{text}" needs the camera\'s balance',
            where="--aim",
            remedy="Add it, for example --balance 4300K.",
        )
    return balance_aim(balance)


def liked_in(text: str) -> Light | None:
    """The light whose look an aim names; None for other aims."""
    match = _LIKE.fullmatch(_split_stops(text.strip())[0])
    return light(match["light"]) if match else None


def _like_aim(text: str, kit: LoadedKit | None) -> Aim | None:
    match = _LIKE.fullmatch(text)
    if match is None:
        return None
    like = light(match["light"])
    filters = [filter_named(match["filter"], kit)] if match["filter"] else []
    looks = uv(like.power * stack(filters))
    if not np.isfinite(looks).all():
        raise EvencastError(
            "nothing of that light passes that sheet, so there is no colour to match",
            where=text,
            remedy="Name a sheet that passes some of the light.",
        )
    return aim_at_uv(text, looks)


def _xy_aim(text: str) -> Aim | None:
    match = re.fullmatch(r"(\d*\.\d+)\s*,\s*(\d*\.\d+)", text)
    if match is None:
        return None
    x, y = float(match[1]), float(match[2])
    if not is_real_xy(x, y):
        raise EvencastError(
            f"no real colour has x {x:g}, y {y:g}",
            where="--aim",
            remedy="Give an x, y inside the horseshoe of the CIE diagram; white light lies near "
            "0.31 to 0.46, 0.32 to 0.41.",
        )
    return aim_at_uv(text, uv_of_xy(np.array([x, y])))
