from __future__ import annotations

import numpy as np
import pytest

from evencast import lights
from evencast.camera.own import camera_of_text
from evencast.camera.sensitivities import CAMERAS, camera_named
from evencast.colour import xyz
from evencast.errors import EvencastError
from evencast.quantities import Floats
from evencast.spectra import GRID_NM


def bands(nm: Floats) -> Floats:
    """Three bells. [(n, 3)]"""
    return np.asarray(np.exp(-(((nm[:, None] - np.array([600.0, 540.0, 450.0])) / 40.0) ** 2)))


def csv(nm: Floats, values: Floats, *, heading: str = "wavelength_nm,r,g,b") -> str:
    rows = [",".join(f"{each:.6g}" for each in row) for row in np.column_stack([nm, values])]
    return "\n".join([heading, *rows]) + "\n"


NM = np.arange(400.0, 701.0, 10.0)
GOOD = csv(NM, bands(NM))


def test_built_in_ones_by_name_in_any_case() -> None:
    assert [camera_named(name).name for name in CAMERAS] == list(CAMERAS)
    assert camera_named(" Camera a ") is camera_named("camera A")
    assert [camera_named(name).is_eye for name in CAMERAS] == [True, False, False]


def test_an_unknown_name_lists_the_known_ones() -> None:
    with pytest.raises(EvencastError) as raised:
        camera_named("camera C")
    assert "camera C" in raised.value.what
    assert all(name in raised.value.remedy for name in CAMERAS)


def test_the_eye_sums_what_the_observer_sums() -> None:
    power = lights.builtin("FL2").power
    assert camera_named("eye").raw(power) == pytest.approx(xyz(power), rel=1e-15)


def test_nothing_is_seen_beyond_what_was_measured() -> None:
    camera = camera_named("camera B")
    beyond = (GRID_NM < 400.0) | (GRID_NM > 680.0)
    assert not camera.weights[beyond].any()
    assert np.array_equal(camera.weights[~beyond][::2], camera.values.T)
    assert (camera.weights >= 0.0).all()


def test_samples_on_the_grid_are_taken_as_they_are() -> None:
    camera = camera_named("camera A")
    assert np.array_equal(camera.weights, camera.values.T)


def test_a_line_between_two_coarse_samples_is_seen() -> None:
    """The green line of mercury, 545 nm on the grid, lies between samples at 540 and 550 nm."""
    camera = camera_named("camera B")
    at = camera.raw(np.where(GRID_NM == 545.0, 1.0, 0.0))
    beside = [camera.raw(np.where(GRID_NM == nm, 1.0, 0.0)) for nm in (540.0, 550.0)]
    assert at == pytest.approx((beside[0] + beside[1]) / 2.0, rel=0.03)


def test_own_camera_keeps_its_samples_and_scale_is_free() -> None:
    camera = camera_of_text(GOOD, where="a.csv", name="mine")
    assert (camera.name, camera.is_eye) == ("mine", False)
    assert np.array_equal(camera.wavelengths_nm, NM)
    percent = camera_of_text(csv(NM, 100.0 * bands(NM)), where="a.csv")
    assert percent.name == "a.csv"
    assert percent.values == pytest.approx(camera.values, rel=1e-4)


@pytest.mark.parametrize(
    "text",
    [
        "\ufeff# measured on Tuesday\n\n" + GOOD,
        GOOD.replace(",", ";"),
        GOOD.replace(",", ";").replace(".", ","),
        GOOD.replace(",", "\t"),
        GOOD.replace("\n", "\r\n"),
        GOOD.replace("wavelength_nm,r,g,b", "Wavelength, R, G, B"),
        csv(NM, bands(NM)[:, ::-1], heading="wavelength_nm,b,g,r"),
        GOOD.replace("wavelength_nm,r", '"wavelength_nm","r"'),
    ],
    ids=["remarks", "semicolons", "commas", "tabs", "CRLF", "capitals", "order", "quotes"],
)
def test_forms_that_are_read(text: str) -> None:
    plain = camera_of_text(GOOD, where="a.csv")
    assert camera_of_text(text, where="a.csv").values == pytest.approx(plain.values, rel=1e-9)


def test_noise_below_zero_is_read_as_zero() -> None:
    values = bands(NM)
    values[0, 0] = -0.0005
    camera = camera_of_text(csv(NM, values), where="a.csv")
    assert camera.values[0, 0] == 0.0


def changed(row: int, band: int, value: float) -> str:
    values = bands(NM)
    values[row, band] = value
    return csv(NM, values)


@pytest.mark.parametrize(
    ("text", "what", "where"),
    [
        ("", "empty", "a.csv"),
        ("# only a remark\n", "empty", "a.csv"),
        (GOOD.replace("r,g,b", "r,g", 1), "the column b is missing", "line 1"),
        (GOOD.replace("wavelength_nm,r,g,b\n", ""), "are missing", "line 1"),
        (GOOD.replace("r,g,b", "r,g,b,ir", 1), "5 columns", "line 1"),
        (GOOD + "710,0.1,0.1\n", "3 cells", "line 33"),
        (GOOD + "710,0.1,,0.1\n", '"" is not a number', "line 33"),
        (GOOD + "710,0.1,nan,0.1\n", '"nan" is not a number', "line 33"),
        (GOOD + "710,0.1,1e999,0.1\n", "is not a number", "line 33"),
        (GOOD.replace(".", ","), "7 cells", "line 2"),
        (GOOD + "700,0,0,0\n", "700 nm comes after 700 nm", "line 33"),
        (csv(NM[::-1], bands(NM)[::-1]), "690 nm comes after 700 nm", "line 3"),
        (csv(NM / 1000.0, bands(NM)), "no wavelength of visible light", "line 2"),
        (csv(NM[2:], bands(NM[2:])), "from 420 to 700 nm", "a.csv"),
        (csv(NM[:-5], bands(NM[:-5])), "from 400 to 650 nm", "a.csv"),
        (csv(NM[:8], bands(NM[:8])), "8 samples", "a.csv"),
        (csv(np.delete(NM, (4, 5, 6)), bands(np.delete(NM, (4, 5, 6)))), "nothing between", "line"),
        (changed(5, 1, -0.2), "-0.2 in g is negative", "line 7"),
        (csv(NM, bands(NM) * np.array([1.0, 0.0, 1.0])), "nothing is seen in g", "a.csv"),
        (csv(NM, bands(NM)[:, [0, 0, 2]]), "alike", "a.csv"),
        (csv(NM, bands(NM) * 0.0), "nothing is seen in r, g and b", "a.csv"),
    ],
)
def test_what_is_refused_and_where(text: str, what: str, where: str) -> None:
    with pytest.raises(EvencastError) as raised:
        camera_of_text(text, where="a.csv")
    assert what in raised.value.what
    assert where in raised.value.where
    assert raised.value.remedy
