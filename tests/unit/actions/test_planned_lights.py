"""A plan's lights as spectra: what kind and tint beside a reading decide."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from evencast.actions.levels import bare_levels
from evencast.actions.planned import load_plan
from evencast.actions.solve import solve
from evencast.colour import mired_duv, uv
from evencast.errors import DocumentErrors, Problem
from evencast.lights import Light, of_camera, of_kelvin, of_reading
from evencast.spectra import GRID_NM, planckian
from tests.gdtf_files import archive, beam, description, emitter

STRONG_KIT = """format = 1
name = "strong sheets"
[[filter]]
name = "blue A"
role = "correction"
xyy = [
  { illuminant = "A", x = 0.3420, y = 0.3440, Y_percent = 30.1 },
  { illuminant = "D65", x = 0.2190, y = 0.2290, Y_percent = 34.0 },
]
[[filter]]
name = "half orange"
role = "correction"
kelvin = { from_k = 6500, to_k = 3800, stops = 0.67 }
[[filter]]
name = "orange"
role = "correction"
kelvin = { from_k = 6500, to_k = 3200, stops = 0.67 }
[[filter]]
name = "eighth plus green"
role = "green"
generic = "eighth plus green"
[[filter]]
name = "quarter minus green"
role = "green"
generic = "quarter minus green"
"""

KIT = """format = 1
name = "one sheet"
[[filter]]
name = "full CTO"
role = "correction"
generic = "full CTO"
"""
PLAN = """format = 1
name = "one light"
kit = "kit.toml"
mains_hz = 50
camera = {{ balance = {{ fixed_k = 4300 }}{camera} }}
[[light]]
name = "lamp"
role = "other"
{light}
"""


def planned(folder: Path, light: str, *, camera: str = "") -> Light:
    """The one light of a plan in that folder."""
    (folder / "kit.toml").write_text(KIT, encoding="utf-8")
    plan = folder / "plan.toml"
    plan.write_text(PLAN.format(light=light, camera=camera), encoding="utf-8")
    return load_plan(plan).lights["lamp"]


def problem(folder: Path, light: str) -> Problem:
    """The one error in it."""
    with pytest.raises(DocumentErrors) as caught:
        planned(folder, light)
    (found,) = (each for each in caught.value.problems if each.severity == "error")
    return found


def test_the_kind_picks_the_spectra_of_a_reading(tmp_path: Path) -> None:
    """As on the command line, under the plan's name; a tube hangs as a tube."""
    light = planned(tmp_path, 'kind = "tube"\ncct_k = 4000\nduv = 0.004')
    same = of_reading(4000, 0.004, kind="tube")
    np.testing.assert_array_equal(light.members, same.members)
    assert (light.name, light.kind, light.fitting) == ("lamp", "tube", "tube")


def test_kelvin_alone_stays_that_white(tmp_path: Path) -> None:
    """Of whatever kind."""
    light = planned(tmp_path, 'kind = "tungsten"\ncct_k = 3100')
    np.testing.assert_array_equal(light.members, of_kelvin(3100).members)
    assert light.kind == "tungsten"


def test_a_tint_makes_it_a_camera_reading(tmp_path: Path) -> None:
    """ "none" too; with a step of unknown size unless the plan's camera has one."""
    plain = planned(tmp_path, 'cct_k = 5200\ntint = "none"')
    np.testing.assert_array_equal(plain.members, of_camera(5200).members)
    tinted = planned(tmp_path, 'cct_k = 5200\ntint = "4 toward green"')
    np.testing.assert_array_equal(tinted.members, of_camera(5200, toward_magenta=-4).members)
    known = planned(
        tmp_path, 'cct_k = 5200\ntint = "4 toward magenta"', camera=", tint_step_duv = 0.0005"
    )
    before, after = (float(mired_duv(uv(each.power))[1]) for each in (plain, known))
    assert after - before == pytest.approx(4 * 0.0005, abs=1e-6)


def test_a_discharge_lamp_by_its_reading_is_refused(tmp_path: Path) -> None:
    """With the light's name and the reason."""
    assert problem(tmp_path, 'kind = "mercury"\ncct_k = 4000\nduv = 0.004') == Problem(
        "error",
        'plan.toml, light "lamp" (4000K+0.004)',
        "a reading does not tell the spectrum of a mercury lamp",
        "Its lines differ from lamp to lamp: with a guess, a sheet was up to 50 mired off. Give a "
        "file of its spectrum, such as ./lamp.csv, or the built-in lamp that is most like it: "
        "mercury clear, mercury coated.",
    )


def test_a_kind_that_contradicts_the_built_in_light_is_refused(tmp_path: Path) -> None:
    """A wider word for it is right."""
    assert planned(tmp_path, 'kind = "tube"\nbuiltin = "FL2"').kind == "halophosphate tube"
    assert problem(tmp_path, 'kind = "HMI"\nbuiltin = "FL2"') == Problem(
        "error",
        'plan.toml, light "lamp" (kind)',
        "cool white tube FL2 is of the kind halophosphate tube, not HMI",
        "Leave the kind out, or give the light by its reading or its spectrum.",
    )


FROSTED = """format = 1
name = "one light"
mains_hz = 55
kit = "kit.toml"
camera = { balance = { fixed_k = 4300 } }
[[light]]
name = "lamp"
role = "other"
builtin = "tungsten 3200 K"
frost = ["lihgt frost", "full CTO"]
[[light]]
name = "file"
role = "fill"
spectrum = "none.csv"
"""


def test_what_is_wrong_between_plan_and_kit_is_told_with_the_errors_of_both(
    tmp_path: Path,
) -> None:
    """A wrong key in each, a frost that the kit lacks and one of another role, and a lost file."""
    (tmp_path / "kit.toml").write_text(
        KIT + '[[filter]]\nname = "light frost"\nrole = "diffusion"\ngeneric = "lite frost"\n',
        "utf-8",
    )
    (tmp_path / "plan.toml").write_text(FROSTED, "utf-8")
    with pytest.raises(DocumentErrors) as caught:
        load_plan(tmp_path / "plan.toml")
    errors = [each for each in caught.value.problems if each.severity == "error"]
    assert [(each.where, each.message) for each in errors] == [
        ("plan.toml, mains_hz", '"mains_hz" is 55, which is not one of the choices'),
        (
            'kit.toml, filter "light frost".generic',
            'no built-in filter is called "lite frost"',
        ),
        ('plan.toml, light "file" (' + str(tmp_path / "none.csv") + ")", "there is no such file"),
        ('plan.toml, light "lamp".frost', 'no filter of the kit is called "lihgt frost"'),
        (
            'plan.toml, light "lamp".frost',
            '"full CTO" has the role correction in the kit, and a frost is diffusion',
        ),
    ]


def test_a_frost_that_the_kit_lacks_is_an_error_in_sound_documents(tmp_path: Path) -> None:
    """The plan is refused, and its place named."""
    found = problem(tmp_path, 'cct_k = 3200\nfrost = ["silk"]')
    assert (found.where, found.message) == (
        'plan.toml, light "lamp".frost',
        'no filter of the kit is called "silk"',
    )


def test_a_look_that_is_not_built_in_is_an_error(tmp_path: Path) -> None:
    """The nearest is named; a look that is built in, and one of the plan, are sound."""
    assert planned(tmp_path, 'cct_k = 3200\naim = { look = "Moonlight, discreet" }').name == "lamp"
    own = 'cct_k = 3200\naim = { look = "alley" }\n[[look]]\nname = "Alley"'
    assert planned(tmp_path, own).name == "lamp"
    found = problem(tmp_path, 'cct_k = 3200\naim = { look = "moonlight, discret" }')
    assert found.where == 'plan.toml, light "lamp".aim.look'
    assert found.remedy.startswith('Did you mean "moonlight, discreet"')


def test_a_light_that_is_unsure_is_hung_by_its_middle_and_to_be_read(tmp_path: Path) -> None:
    """A tube read off a camera: some stack's middle is inside, none is likely to be."""
    (tmp_path / "kit.toml").write_text(STRONG_KIT, "utf-8")
    path = tmp_path / "plan.toml"
    path.write_text(
        'format = 1\nname = "x"\nmains_hz = 50\nkit = "kit.toml"\n'
        "[camera]\nbalance = { fixed_k = 4300 }\nexposure_index = 800\n"
        '[[light]]\nname = "ceiling"\nrole = "background"\nkind = "tube"\ncct_k = 4000\n'
        'tint = "4 toward magenta"\n',
        "utf-8",
    )
    answer = solve(path)
    (light,) = answer.lights
    assert light.share_within < 0.5
    assert light.within_tolerance
    assert light.move == "filter"
    assert "of what sheets and light may be. Hang it, read it, trim it." in light.reason
    assert light.notes[0].startswith("ceiling: only a reading is known, not which tube")


def test_a_fixtures_file_is_a_light_of_the_plan(tmp_path: Path) -> None:
    """Of its emitters, under the plan's name, and dialled between its two whites; what the file
    is taken for is told."""
    near = [emitter(f"{each} K", GRID_NM, planckian(float(each))) for each in (3800, 4900)]
    (tmp_path / "panel.gdtf").write_bytes(archive(description(emitters=near)))
    keys = 'spectrum = "panel.gdtf"\nadjustable = { low_k = 2000, high_k = 9000 }'
    path = tmp_path / "plan.toml"
    (tmp_path / "kit.toml").write_text(KIT, "utf-8")
    path.write_text(PLAN.format(camera="", light=keys).replace("4300", "4700"), "utf-8")
    loaded = load_plan(path)
    (lamp,) = loaded.lights.values()
    assert (lamp.name, lamp.kind, lamp.fitting) == ("lamp", "unknown", "fixture")
    ends = [float(mired_duv(uv(each))[0]) for each in lamp.emitters]
    assert ends == pytest.approx([1e6 / 3800, 1e6 / 4900], abs=0.5)
    (answer,) = solve(path).lights
    assert (answer.move, answer.dial_k, answer.within_tolerance) == ("dial", 4700, True)
    assert any("emitters" in each for each in answer.notes)


def test_a_fixtures_kind_is_its_own_unless_the_plan_says(tmp_path: Path) -> None:
    """So is its fitting; a swap may be a fixture's file too."""
    body = beam(ColorTemperature=3200, LampType="Halogen")
    (tmp_path / "lamp.gdtf").write_bytes(archive(description(body=body)))
    (tmp_path / "kit.toml").write_text(KIT, "utf-8")
    path = tmp_path / "plan.toml"
    for keys, kind, fitting in (
        ("", "tungsten", "fixture"),
        ('kind = "HMI"\nfitting = "street"', "HMI", "street"),
    ):
        path.write_text(PLAN.format(camera="", light=f'spectrum = "lamp.gdtf"\n{keys}'), "utf-8")
        (lamp,) = load_plan(path).lights.values()
        assert (lamp.kind, lamp.fitting) == (kind, fitting)
    watts = 'spectrum = "lamp.gdtf"\nlevel = { watts = 650 }\ndistance_m = 3'
    path.write_text(PLAN.format(camera="", light=watts), "utf-8")
    loaded = load_plan(path)
    levels, problems = bare_levels(loaded, tmp_path)
    assert problems == []
    assert levels["lamp"].level.low == pytest.approx(650 * 10 / 9)
    swap = (
        'builtin = "cool white tube FL2"\nmoves = ["swap"]\n'
        'swap = [{ name = "b", spectrum = "lamp.gdtf" }]'
    )
    path.write_text(PLAN.format(camera="", light=swap).replace("4300", "3200"), "utf-8")
    (answer,) = solve(path).lights
    assert answer.swapped_for == "b"


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 broken", b"wavelength_nm,power\n"])
def test_a_fixtures_file_that_is_none_is_told_with_all_else(tmp_path: Path, content: bytes) -> None:
    """Also where the plan has other errors."""
    (tmp_path / "lamp.gdtf").write_bytes(content)
    (tmp_path / "kit.toml").write_text(KIT, "utf-8")
    path = tmp_path / "plan.toml"
    text = PLAN.format(camera="", light='spectrum = "lamp.gdtf"')
    for wrong in ("", "aim = { duv = 7 }\n"):
        path.write_text(text + wrong, "utf-8")
        with pytest.raises(DocumentErrors) as caught:
            load_plan(path)
        places = [each.where for each in caught.value.problems if each.severity == "error"]
        assert places[-1] == 'plan.toml, light "lamp" (lamp.gdtf)'
        assert len(places) == (2 if wrong else 1)
