"""Levels of a plan's lights: by hand from ISO 2720, inverse square and what is written."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from evencast.actions.levels import (
    F_STOP,
    NO_SHOT_STOP,
    T_STOP,
    BareLevel,
    bare_levels,
    camera_of,
    over_shot,
    shot_of,
)
from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.lights.level import Level
from tests.gdtf_files import archive, beam, description
from tests.photometric_files import cosine, lm63
from tests.plans import light, loaded

WINDOW = "daylight D65"


def read(
    folder: Path,
    keys: str,
    *,
    role: str = "key",
    builtin: str = "tungsten 3200 K",
    camera: str = "",
) -> BareLevel:
    """The level of a plan's one light."""
    plan = loaded(folder, light("lamp", keys, role=role, builtin=builtin), camera=camera)
    found, problems = bare_levels(plan, folder)
    assert problems == []
    return found["lamp"]


def problems(folder: Path, lights: str, *, camera: str = "") -> list[Problem]:
    found, told = bare_levels(loaded(folder, lights, camera=camera), folder)
    assert set(found) <= {"sound"}
    return told


@pytest.mark.parametrize(
    ("mains_hz", "keys", "time_s", "frames"),
    [
        (50, "", 1 / 50, 25.0),
        (60, "", 1 / 48, 24.0),
        (60, "shutter_deg = 172.8", 1 / 50, 24.0),
        (50, "frames_per_s = 50", 1 / 100, 50.0),
        (50, "shutter_s = 0.01", 1 / 100, 25.0),
    ],
)
def test_the_camera_takes_a_frame_by_the_mains(
    tmp_path: Path, mains_hz: int, keys: str, time_s: float, frames: float
) -> None:
    """180 degrees of 25 frames on 50 Hz and of 24 on 60 Hz, unless the plan says otherwise."""
    plan = loaded(tmp_path, light("lamp", ""), camera=keys, mains_hz=mains_hz).plan
    camera = camera_of(plan)
    assert camera.time_s == pytest.approx(time_s, rel=1e-12)
    assert (camera.frames_per_s, camera.mains_hz, camera.index) == (frames, mains_hz, 800.0)
    assert camera.constants == (250.0, 330.0)


def test_a_shutter_longer_than_its_frame_is_a_problem_beside_the_others(tmp_path: Path) -> None:
    """And the lights are read all the same."""
    lights = light("sound", "level = { lux = 900 }") + light("lamp", "level = { ev = 99 }")
    told = problems(tmp_path, lights, camera="shutter_s = 0.05\nf_stop = 1e200")
    assert [each.where for each in told] == [
        "camera.shutter_s",
        "camera.f_stop",
        'light "lamp".level.ev',
    ]
    assert told[0].message == (
        "the shutter of 0.05 s is longer than one frame at 24 frames per second"
    )
    with pytest.raises(EvencastError):
        camera_of(loaded(tmp_path, light("lamp", ""), camera="shutter_s = 0.05").plan)


@pytest.mark.parametrize(
    ("keys", "f_number", "note"),
    [("t_stop = 2.8", 2.8, T_STOP), ("f_stop = 4", 4.0, F_STOP), ("", None, NO_SHOT_STOP)],
)
def test_the_shot_stop(tmp_path: Path, keys: str, f_number: float | None, note: str) -> None:
    """A T-stop and an f-stop are both taken as the meter's, and each says so."""
    shot = shot_of(loaded(tmp_path, light("lamp", ""), camera=keys).plan.camera)
    assert (shot.f_number, shot.note) == (f_number, note)


def test_a_flooded_lamp_as_taught(tmp_path: Path) -> None:
    """9000 cd at 3 m are 1000 lx: f/7.11 by a dome, f/8.16 by a disc at 800 and 1/48 s; less two
    stops they are 2.34 to 1.94 stops under f/8."""
    bare = read(tmp_path, "level = { cd = 9000 }\ndistance_m = 3")
    assert bare.level == Level(1000.0, 1000.0, "lux", 3.0)
    assert (bare.known_by, bare.frost_stops, bare.notes) == ("9000 cd", (0.0, 0.0), [])
    camera = camera_of(loaded(tmp_path, light("lamp", "")).plan)
    left = bare.level.losing(2.0, 2.0)
    by_dome, by_disc = math.sqrt(250 * 800 / 48 / 330), math.sqrt(250 * 800 / 48 / 250)
    assert camera.f_numbers(left) == pytest.approx((by_dome, by_disc), rel=1e-12)
    assert over_shot(left, camera, 8.0) == pytest.approx((-2.34, -1.94), abs=0.005)


@pytest.mark.parametrize(
    ("level", "value", "unit"),
    [
        ("{ lux = 800 }", 800.0, "lux"),
        ("{ fc = 100 }", 1076.391042, "lux"),
        ("{ ev = 0 }", 0.01, "meter"),
        ("{ ev = 10 }", 10.24, "meter"),
        ("{ f_stop = 4 }", 16 * 48 / 800, "meter"),
        ("{ f_stop = 4, exposure_index = 400 }", 16 * 48 / 400, "meter"),
        ("{ f_stop = 4, shutter_s = 0.02 }", 16 * 50 / 800, "meter"),
    ],
)
def test_what_a_meter_said(tmp_path: Path, level: str, value: float, unit: str) -> None:
    """N^2 / (S t) of a stop, 2^EV / 100 of an EV, 10.76 lx to the foot-candle."""
    found = read(tmp_path, f"level = {level}").level
    assert (found.low, found.high) == pytest.approx((value, value), rel=1e-9)
    assert (found.unit, found.distance_m) == (unit, None)


def test_a_stop_read_at_another_index_needs_no_constant(tmp_path: Path) -> None:
    """f/4 at 400 is f/5.66 at 800: one stop over f/4, exactly."""
    bare = read(tmp_path, "level = { f_stop = 4, exposure_index = 400 }")
    camera = camera_of(loaded(tmp_path, light("lamp", "")).plan)
    assert over_shot(bare.level, camera, 4.0) == pytest.approx((1.0, 1.0), abs=1e-12)


def test_fixtures_add_and_move(tmp_path: Path) -> None:
    """Two of 500 lx each at 4 m give 4000 lx at 2 m."""
    bare = read(
        tmp_path, "count = 2\nlevel = { lux = 500, distance_m = 4 }\ndistance_m = 2\nsize_mm = 130"
    )
    assert bare.level == Level(4000.0, 4000.0, "lux", 2.0)
    assert bare.known_by == "2 times 500 lx at 4 m"
    assert bare.notes == [
        "Moved from 4 m, where it was read, to 2 m: 2 stops more, by inverse square."
    ]


def test_near_for_its_size(tmp_path: Path) -> None:
    """Under five times the size of what shines: of the lit frost where frost hangs."""
    moved = "level = { lux = 500, distance_m = 4 }\ndistance_m = 2\nsize_mm = 300\n"
    assert not any("Near" in each for each in read(tmp_path, moved).notes)
    frosted = moved + 'frost = ["light frost"]\n'
    told = read(tmp_path, frosted + "frost_size_mm = 600").notes
    assert any(each.startswith("Near: 2 m is under 5 times the 0.6 m") for each in told)
    unknown = read(tmp_path, frosted).notes
    assert any("Say how large the lit frost is, with frost_size" in each for each in unknown)


def test_frost_takes_a_range(tmp_path: Path) -> None:
    """Its level stays that of the bare light; two sheets take what both do."""
    bare = read(tmp_path, 'level = { lux = 500 }\nfrost = ["light frost", "heavy frost"]')
    assert bare.level.low == 500.0
    assert bare.frost_stops == pytest.approx((0.17 + 1.5, 0.6 + 2.5))
    assert bare.notes == [
        "light frost takes 1/3 stop to 2/3 stop, by beam and distance: meter it.",
        "heavy frost takes 1 1/3 stop to 2 2/3 stops, by beam and distance: meter it.",
    ]


def test_watts_of_a_fresnel_are_a_wide_range(tmp_path: Path) -> None:
    """10 to 25 cd per watt in flood, from there to 175 in spot where the focus is not said."""
    keys = "level = {{ watts = 650{} }}\ndistance_m = 3"
    flood = read(tmp_path, keys.format(', focus = "flood"')).level
    assert (flood.low * 9, flood.high * 9) == pytest.approx((6500.0, 16250.0))
    either = read(tmp_path, keys.format("")).level
    assert (either.low * 9, either.high * 9) == pytest.approx((6500.0, 113750.0))
    assert any(
        "Lamps of one size differ that much" in n for n in read(tmp_path, keys.format("")).notes
    )


def test_a_photometric_file_beside_the_plan(tmp_path: Path) -> None:
    """A flat emitter of 1000 cd gives 250 lx at 2 m; near for the 1.3 m of its opening."""
    written = cosine()
    written.opening = (1.2, 0.5, 0.0)
    (tmp_path / "panel.ies").write_text(lm63(written), encoding="utf-8")
    bare = read(tmp_path, 'level = { photometry = "panel.ies" }\ndistance_m = 2')
    assert bare.level.low == pytest.approx(250.0)
    assert bare.known_by == "panel.ies (IES LM-63-2002) at its brightest, 1000 cd"
    assert any(each.startswith("Near: 2 m is under 5 times the 1.3 m") for each in bare.notes)


def test_a_fixtures_file_beside_the_plan(tmp_path: Path) -> None:
    """3000 lm in 40 degrees of beam and 70 of field, two of them at 2 m: a range, with a word on
    what to do about it, and what was made out about the file."""
    body = beam("a", LuminousFlux=3000, BeamAngle=40, FieldAngle=70) + beam("b", BeamType="Glow")
    (tmp_path / "panel.gdtf").write_bytes(archive(description(body=body)))
    keys = 'count = 2\nlevel = { photometry = "panel.gdtf" }\ndistance_m = 2'
    bare = read(tmp_path, keys, role="fill")
    low, high = (
        2 * 3000 / (2 * math.pi * (1 - math.cos(math.radians(each) / 2))) / 4 for each in (70, 40)
    )
    assert (bare.level.low, bare.level.high) == pytest.approx((low, high))
    assert bare.known_by == f"2 times panel.gdtf (GDTF), {2 * low:.0f} to {2 * high:.0f} cd"
    assert bare.notes[:3] == [
        "panel.gdtf: 3000 lm; at least as if all fell evenly inside its field angle of 70 degrees, "
        "at most as if inside its beam angle of 40 degrees.",
        "panel.gdtf: 1 that only glow are left out.",
        "Read yours bare at a noted distance and focus, and give that reading instead.",
    ]


def test_a_view_is_read_reflected(tmp_path: Path) -> None:
    """EV 14 is f/12.8 at ISO 100 and 1/100 s, f/52.26 at 800 and 1/48 s: 5.42 stops over f/8;
    as bright through three panes as through one, and from anywhere."""
    keys = "count = 3\nlevel = { ev = 14 }\ndistance_m = 4"
    bare = read(tmp_path, keys, role="view", builtin=WINDOW)
    assert (bare.level.unit, bare.level.distance_m) == ("meter", None)
    camera = camera_of(loaded(tmp_path, light("lamp", "")).plan)
    wanted = 2 * math.log2(math.sqrt(2**14 * 8 / 48) / 8)
    assert over_shot(bare.level, camera, 8.0) == pytest.approx((wanted, wanted), abs=1e-9)
    assert bare.known_by == "EV 14 for ISO 100, reflected"
    assert bare.notes == [
        "A view looks as bright from anywhere: its count and distance are not used."
    ]


@pytest.mark.parametrize(
    ("keys", "role", "where"),
    [
        ("level = { cd = 9000 }", "key", "level"),
        ("level = { lux = 900 }\ndistance_m = 3", "key", "level"),
        ("level = { watts = 650 }\ndistance_m = 3", "key", "level.watts"),
        ("level = { lux = 900 }", "view", "level"),
        ("level = { photometry = 'panel.csv' }\ndistance_m = 3", "key", "level.photometry"),
        ("level = { lux = 900 }\nfrost = ['full CTB']", "key", "frost"),
    ],
)
def test_what_the_document_itself_shows_is_refused_with_it(
    tmp_path: Path, keys: str, role: str, where: str
) -> None:
    """Before a level is asked for, and once."""
    with pytest.raises(DocumentErrors) as caught:
        loaded(tmp_path, light("lamp", keys, role=role, builtin="two-colour LED panel"))
    (told,) = (each for each in caught.value.problems if each.severity == "error")
    assert told.where.endswith(f'light "lamp".{where}')


REFUSED = {
    "watts of a bulb": (
        ("level = { watts = 60 }\ndistance_m = 3", "filament bulb"),
        "level.watts",
        "watts do not tell how bright lamp is",
    ),
    "no lamp": (
        ("level = { watts = 1e9 }\ndistance_m = 3", "tungsten 3200 K"),
        "level.watts",
        "a lamp of 1e+09 W is none that stands on a set",
    ),
    "no such EV": (("level = { ev = 99 }", WINDOW), "level.ev", "EV 99 is beyond any meter"),
    "no such light": (
        ("level = { lux = 1e300 }", WINDOW),
        "level.lux",
        "1e+300 is beyond anything met on a set",
    ),
    "no such stop": (
        ("level = { f_stop = 1e200 }", WINDOW),
        "level.f_stop",
        "1e+200 is beyond anything met on a set",
    ),
    "no such index": (
        ("level = { f_stop = 4, exposure_index = 1e-9 }", WINDOW),
        "level.exposure_index",
        "1e-09 is beyond anything met on a set",
    ),
    "inside the light": (
        ("level = { lux = 9, distance_mm = 1 }", WINDOW),
        "level.distance",
        "0.001 m is no distance from a light to a subject",
    ),
    "in another town": (
        ("level = { lux = 9, distance_m = 3 }\ndistance_m = 1e9", WINDOW),
        "distance",
        "1e+09 m is no distance from a light to a subject",
    ),
    "no file": (
        ('level = { photometry = "gone.ies" }\ndistance_m = 3', WINDOW),
        "level.photometry",
        "gone.ies: there is no such file",
    ),
    "a fixture without flux": (
        ('level = { photometry = "dark.gdtf" }\ndistance_m = 3', WINDOW),
        "level.photometry",
        'dark.gdtf: does not say the flux of its beam "a" (LuminousFlux)',
    ),
    "a fixture beyond a set": (
        ('level = { photometry = "beyond.gdtf" }\ndistance_m = 3', WINDOW),
        "level.photometry",
        "beyond.gdtf: 1.15889e+11 is beyond anything met on a set",
    ),
    "torn": (
        ('level = { photometry = "torn.ies" }\ndistance_m = 3', WINDOW),
        "level.photometry",
        None,
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_is_a_problem_in_words(tmp_path: Path, case: str) -> None:
    """Under the light's name and key, with what to do."""
    (keys, builtin), where, message = REFUSED[case]
    (tmp_path / "torn.ies").write_text("IESNA:LM-63-2002\nTILT=NONE\n1 2 3\n", encoding="utf-8")
    for name, said in (
        ("dark", {"BeamAngle": 9}),
        ("beyond", {"LuminousFlux": 1e7, "BeamAngle": 0.5}),
    ):
        body = beam("a", **said)
        (tmp_path / f"{name}.gdtf").write_bytes(archive(description(body=body)))
    (told,) = problems(tmp_path, light("lamp", keys, role="fill", builtin=builtin))
    assert (told.severity, told.where) == ("error", f'light "lamp".{where}')
    assert told.message.startswith("torn.ies: ") if message is None else told.message == message
    assert told.remedy


def test_every_problem_is_told_at_once(tmp_path: Path) -> None:
    """A sound light keeps its level."""
    lights = (
        light("sound", "level = { lux = 800 }")
        + light("a", "level = { ev = 99 }", role="fill")
        + light("b", 'level = { photometry = "gone.ldt" }\ndistance_m = 3', role="fill")
    )
    found, told = bare_levels(loaded(tmp_path, lights), tmp_path)
    assert list(found) == ["sound"]
    assert [each.where for each in told] == ['light "a".level.ev', 'light "b".level.photometry']


def test_candelas_without_a_distance_are_refused_here_too(tmp_path: Path) -> None:
    """For a plan that was made otherwise than from its document."""
    plan = loaded(tmp_path, light("lamp", "level = { cd = 9000 }\ndistance_m = 3"))
    (entry,) = plan.plan.light
    nowhere = plan.plan.model_copy(
        update={"light": (entry.model_copy(update={"distance_mm": None}),)}
    )
    found, (told,) = bare_levels(replace(plan, plan=nowhere), tmp_path)
    assert found == {}
    assert told == Problem(
        "error",
        'light "lamp".level',
        "without a distance nobody can tell how much light arrives",
        "Say how far it stands from the subject, as in distance_m = 3.",
    )


def test_lights_without_a_level_are_left_out(tmp_path: Path) -> None:
    assert bare_levels(loaded(tmp_path, light("lamp", "")), tmp_path) == ({}, [])
