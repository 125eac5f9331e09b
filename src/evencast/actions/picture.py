"""`look light`: what the camera makes of a light, bare and through sheets."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from evencast.actions.balance import TINT_NOTE, Balance
from evencast.actions.cautions import WHITE_ALONE, cautions
from evencast.actions.doubt import Looks, ends, light_notes, looks, middle
from evencast.actions.reading import rounded
from evencast.actions.resolve import is_path
from evencast.camera import patches
from evencast.camera.display import Display, display_named, shown
from evencast.camera.own import camera_of_text
from evencast.camera.patches import Patch
from evencast.camera.rendering import linear, residual_stops
from evencast.camera.sensitivities import CAMERAS, Sensitivities, camera_named
from evencast.colour import low_middle_high, mired_duv, uv, white_uv, xyz
from evencast.errors import EvencastError
from evencast.filters import Filter, stack_members
from evencast.lights import Light
from evencast.quantities import Floats, kelvin, listed
from evencast.results.light import Band
from evencast.results.picture import Exposure, PictureAnswer
from evencast.spectra import GRID_NM, MEMBERS
from evencast.store.files import read_text

DEEP_RED_NM = 700.0
DEEP_RED_SHARE = 0.02
"""Share of a camera's red from beyond 700 nm, where what a sheet is known by tells nothing of it,
from which on it is worth a word: 0.03 stop."""

COMPUTED = (
    "Computed from spectra, not a photograph: flat, evenly lit patches without glare, noise or "
    "the tone curve of a camera."
)
TWO_CAMERAS = (
    "Cameras A and B are two published sensors and differ from each other as much as either does "
    "from the eye; yours is neither. A frame of a grey card under this light settles it."
)


def picture(
    light: Light,
    filters: Sequence[Filter],
    *,
    balance_k: float,
    balance_duv: float | None = None,
    camera: str | Sensitivities = "eye",
    display: str = "sRGB",
    exposure: Exposure = "held",
) -> PictureAnswer:
    """What a camera balanced so makes of a light, bare and through sheets.

    balance_duv : Duv of the white that comes out neutral; None for the white of that Kelvin
    camera      : "eye", "camera A", "camera B", or another's sensitivities
    display     : "sRGB", "Rec. 709" or "Display P3"
    exposure    : "held" as metered under the bare light, or "compensated" for what sheets take
    Raises  EvencastError where nothing passes, and for an unknown camera, display or balance
    """
    return picture_at(
        light,
        filters,
        Balance(balance_k, balance_duv),
        camera=camera,
        display=display,
        exposure=exposure,
    )


def picture_at(
    light: Light,
    filters: Sequence[Filter],
    balance: Balance,
    *,
    camera: str | Sensitivities = "eye",
    display: str = "sRGB",
    exposure: Exposure = "held",
    most: int | None = None,
) -> PictureAnswer:
    """As `picture`, at a balance that may have been given by its tint.

    most : how many patches at most, from the first; None for all
    """
    stage = Stage(
        camera_named(camera) if isinstance(camera, str) else camera,
        display_named(display),
        balance.power,
        most,
    )
    bare, through = light.members, light.members * stack_members(filters)
    if not (xyz(through)[:, 1] > 0).all():
        raise EvencastError(
            f"nothing of {light.name} passes",
            where=" + ".join(each.name for each in filters) or "light",
            remedy="Use sheets that pass some of the wavelengths this light has.",
        )
    seen = looks(light, filters)
    residuals = stage.residuals(seen)
    drawn = (
        stage.patches(bare, exposure=bare),
        stage.patches(through, exposure=bare if exposure == "held" else through),
    )
    return PictureAnswer(
        light=light.name,
        filters=[each.name for each in filters],
        balance=str(balance),
        camera=stage.camera.name,
        display=stage.display.name,
        exposure=exposure,
        bare=drawn[0],
        filtered=drawn[1],
        **{name: rounded(middle(each), 6) for name, each in residuals.items()},
        loss_stops=round(middle(seen.loss_stops), 4),
        band=None if seen.is_known else _band(seen, residuals),
        notes=_notes(seen, stage, drawn, balance),
        cautions=cautions(light, filters, middle(seen.loss_stops)),
    )


def camera_of(text: str, folder: Path = Path()) -> Sensitivities:
    """The camera that a text names: built in, or a file of its sensitivities.

    folder : where such a file lies
    Raises  EvencastError where there is none, or none that can be read
    """
    return own_camera(folder / text) if is_path(text) else camera_named(text)


def own_camera(path: Path) -> Sensitivities:
    """A camera from a file of its sensitivities; it is called by the file's name, with its ending
    where a built-in one is called so.

    Raises  EvencastError where it cannot be read or is no camera's
    """
    taken = path.stem.casefold() in {name.casefold() for name in CAMERAS}
    name = path.name if taken else path.stem
    return camera_of_text(read_text(path).text, where=str(path), name=name)


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """What sees, for which display, balanced to which white (81,), and how many patches; None for
    all."""

    camera: Sensitivities
    display: Display
    balance_power: Floats
    most: int | None = None

    def patches(self, powers: Floats, *, exposure: Floats) -> list[Patch]:
        """Every patch, in the middle of what it may look like under spectra (n, 81)."""
        light = linear(
            powers,
            patches.reflectances()[: self.most],
            balance_power=self.balance_power,
            camera=self.camera,
            display=self.display,
            exposure=exposure,
        )
        seen = shown(np.asarray(low_middle_high(np.moveaxis(light, 0, -1))[1]), self.display)
        names = patches.names()[: self.most]
        return [
            Patch(name, code, bool(limited))
            for name, code, limited in zip(names, seen.hexes(), seen.limited, strict=True)
        ]

    def residuals(self, seen: Looks) -> dict[str, Floats]:
        """By the name of the answer's field, of every member."""
        at_mired, at_duv = (float(each) for each in mired_duv(uv(self.balance_power)))
        sides = (
            ("bare_", seen.bare, seen.light.members),
            ("", seen.filtered, seen.members),
        )
        found = {}
        for side, spread, power in sides:
            found[f"{side}residual_mired"] = spread.mired - at_mired
            green = spread.duv - _white_duv(middle(spread.mired))
            found[f"{side}residual_duv"] = green - (at_duv - _white_duv(at_mired))
            red, blue = residual_stops(power, self.balance_power, self.camera)
            unknown = np.full_like(red, np.nan)
            found[f"{side}residual_rg_stops"] = unknown if self.camera.is_eye else red
            found[f"{side}residual_bg_stops"] = unknown if self.camera.is_eye else blue
        return found


def _white_duv(at_mired: float) -> float:
    """Duv of the white of that colour temperature; nan without one."""
    if not math.isfinite(at_mired):
        return math.nan
    return float(mired_duv(white_uv(kelvin(at_mired)))[1])


def _band(seen: Looks, residuals: dict[str, Floats]) -> Band:
    known = {name: each for name, each in residuals.items() if not np.isnan(each).all()}
    band = {name: ends(each, 6) for name, each in known.items()}
    return band | {"loss_stops": ends(seen.loss_stops, 4)}


def _notes(
    seen: Looks, stage: Stage, drawn: Sequence[Sequence[Patch]], balance: Balance
) -> list[str]:
    notes = [COMPUTED]
    beyond = {each.name for side in drawn for each in side if each.limited}
    if beyond:
        listed_ = listed([name for name in dict.fromkeys(patches.names()) if name in beyond])
        notes.append(
            f"Beyond what {stage.display.name} shows at {balance}: {listed_}; drawn paler at the "
            "same brightness, or as white."
        )
    if not seen.is_known:
        notes.append(
            f"Drawn is the middle of {MEMBERS} spectra that light and sheets may have by what is "
            "known of them; a measured spectrum settles it."
        )
    notes += [TWO_CAMERAS] if stage.camera.name in CAMERAS[1:] else []
    notes += _where_it_sees(seen, stage.camera)
    notes += [stage.display.note] if stage.display.note else []
    notes += [] if balance.tint is None else [TINT_NOTE]
    notes += [WHITE_ALONE] if seen.light.lacks_colours else []
    return notes + light_notes(seen.light, from_file=False)


def _where_it_sees(seen: Looks, camera: Sensitivities) -> list[str]:
    """Where a camera sees what nobody measured, or was not itself measured."""
    if camera.is_eye:
        return []
    notes = []
    first, last = (float(camera.wavelengths_nm[each]) for each in (0, -1))
    if first > GRID_NM[0] or last < GRID_NM[-1]:
        notes.append(
            f"{camera.name} was measured from {first:g} to {last:g} nm: what it sees beyond is "
            "not counted."
        )
    red = seen.members * camera.weights[:, 0]
    share = float(np.median(red[:, GRID_NM > DEEP_RED_NM].sum(axis=1) / red.sum(axis=1)))
    if share > DEEP_RED_SHARE and not all(each.measured for each in seen.filters):
        notes.append(
            f"{share:.0%} of what {camera.name} records in red comes from beyond "
            f"{DEEP_RED_NM:g} nm, where nothing that is printed of a sheet tells what it passes."
        )
    return notes
