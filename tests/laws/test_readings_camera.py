"""What a camera's balance tells of a light, held against two published sensitivities.

A camera takes a light for the smooth one that gives its sensor the same proportions of red,
green and blue; its Kelvin and tint are those of that smooth light.
"""

from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import uv_of_mired_duv, white
from evencast.lights import Light, kind_named, of_camera, of_kelvin, reading
from evencast.lights.bend import bend
from evencast.lights.reading import CAMERA_DUV, CAMERA_MIRED, TINT_STEP_DUV
from evencast.quantities import Floats
from tests.laws.readings import KINDS, bases_without, effect, lamps, place_of
from tests.oracle import colour

LAMPS = [lamp for kind in KINDS for lamp in lamps(kind)]


def sensitivities() -> dict[str, Floats]:
    """Red, green and blue of the library's two cameras on the grid; what is not given is 0."""
    shape = colour.SpectralShape(380, 780, 5)
    found = {}
    for name, carried in colour.MSDS_CAMERA_SENSITIVITIES.items():
        ends = {"method": "Constant", "left": 0.0, "right": 0.0}
        aligned = carried.copy().align(shape, extrapolator_kwargs=ends)
        found[name] = np.nan_to_num(aligned.values)
    return found


def neutral_of(lamp: Light, camera: Floats) -> tuple[float, float]:
    """Mired and Duv of the smooth light that this camera cannot tell from the lamp."""

    def proportions(power: Floats) -> Floats:
        raw = power @ camera
        return np.asarray(np.log(raw[[0, 2]] / raw[1]))

    def smooth(place: Floats) -> Floats:
        base = white(1e6 / place[0])
        return np.asarray(bend(base[None], uv_of_mired_duv(place[0], place[1]))[0][0])

    aim = proportions(lamp.power)
    place = np.array(place_of(lamp))
    for _ in range(12):
        miss = proportions(smooth(place)) - aim
        nudges = (np.array([0.5, 0.0]), np.array([0.0, 1e-4]))
        slopes = [(proportions(smooth(place + n)) - aim - miss) / n.sum() for n in nudges]
        change = np.linalg.solve(np.column_stack(slopes), -miss)
        place = place + np.clip(change, [-40.0, -0.01], [40.0, 0.01])
        if np.abs(miss).max() < 1e-8:
            break
    assert np.abs(proportions(smooth(place)) - aim).max() < 1e-9, lamp.name
    return float(place[0]), float(place[1])


@pytest.fixture(scope="module")
def neutrals() -> dict[str, list[tuple[float, float]]]:
    """Of every lamp, by camera."""
    return {
        name: [neutral_of(lamp, camera) for lamp in LAMPS]
        for name, camera in sensitivities().items()
    }


def test_the_doubt_of_a_camera_is_what_the_two_cameras_show(
    neutrals: dict[str, list[tuple[float, float]]],
) -> None:
    """Root mean square of what they differ from the eye by: 13.8 mired and 0.0056 Duv."""
    eye = np.array([place_of(lamp) for lamp in LAMPS])
    differ = np.stack([np.array(each) - eye for each in neutrals.values()])
    assert differ.shape == (2, 75, 2)
    mired, duv = np.sqrt((differ**2).mean(axis=(0, 1)))
    assert 0.8 * CAMERA_MIRED < mired <= CAMERA_MIRED
    assert 0.8 * CAMERA_DUV < duv <= CAMERA_DUV


def test_the_band_of_a_camera_reading_holds_the_lamp(
    neutrals: dict[str, list[tuple[float, float]]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each lamp left out, its kind known, read by each camera to 50 K and a step of tint.

    Colour through the filters and loss are inside in 94 of 100 cells; the band is 5 to 95.
    """
    inside = []
    for places in neutrals.values():
        for lamp, (at_mired, duv) in zip(LAMPS, places, strict=True):
            cct_k = round(1e6 / at_mired / 50.0) * 50.0
            steps = round((duv - place_of(of_kelvin(cct_k))[1]) / TINT_STEP_DUV)
            held = bases_without(lamp, lamp.kind)
            monkeypatch.setattr(reading, "bases_of", lambda kind, cct_k, held=held: held)
            found = of_camera(cct_k, toward_magenta=steps, kind=kind_named(lamp.kind))
            truth, possible = effect(lamp.power[None]), effect(found.members)
            for name in ("u", "v", "stops"):
                low, high = np.percentile(getattr(possible, name), [5, 95], axis=0)
                inside.append((getattr(truth, name)[0] >= low) & (getattr(truth, name)[0] <= high))
    assert 0.88 <= np.mean(inside) <= 0.99
