"""One trim for a reading: which change, what it leaves, and what is said about it."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from evencast.actions.hanging import camera_colour
from evencast.actions.taking import Readings
from evencast.actions.trim import trim
from evencast.colour import mired_duv, uv, xyz
from evencast.errors import EvencastError
from evencast.filters import generic, stack
from evencast.lights import builtin, dim_tungsten, redial
from evencast.results.trim import TrimAnswer
from tests.plans import write_kit

SHEETS = (
    *(f"{grade} {series}" for series in ("CTB", "CTO") for grade in ("eighth", "quarter", "half")),
    *("full CTB", "full CTO", "eighth minus green", "eighth plus green"),
    *("ND 0.15", "ND 0.3", "ND 0.6", "light frost"),
)
ROLES = {"CT": "correction", "gr": "green", "ND": "ND", "fr": "diffusion"}


def kit(*, gone: str = "") -> str:
    def role(name: str) -> str:
        return next(role for part, role in ROLES.items() if part in name)

    return 'format = 1\nname = "bag"\n' + "".join(
        f'[[filter]]\nname = "{name}"\nrole = "{role(name)}"\ngeneric = "{name}"\n'
        + (
            'stock = [{ form = "sheet", width_mm = 530, length_mm = 1220, count = 0 }]\n'
            if name == gone
            else ""
        )
        for name in SHEETS
    )


PLAN = """format = 1
name = "loft"
kit = "kit.toml"
mains_hz = 50
[camera]
balance = {balance}
exposure_index = 800
shutter_s = 0.02
{camera}
{lights}
[[setup]]
name = "desk"
[[setup.light]]
name = "lamp"
{hung}
"""

LAMP = """[[light]]
name = "lamp"
role = "key"
builtin = "tungsten 3200 K"
{keys}
"""


def planned(
    folder: Path,
    *,
    hung: str = "",
    keys: str = "",
    camera: str = "",
    balance: str = "{ fixed_k = 4073 }",
    lights: str = LAMP,
    gone: str = "",
) -> Path:
    (folder / "kit.toml").write_text(kit(gone=gone), "utf-8")
    path = folder / "plan.toml"
    text = PLAN.format(balance=balance, camera=camera, lights=lights.format(keys=keys), hung=hung)
    path.write_text(text, "utf-8")
    return path


def lamp_reads(*sheets: str, dim_stops: float = 0.0) -> str:
    """What a meter shows of the lamp through sheets, by their nominal spectra."""
    lamp = dim_tungsten(builtin("tungsten 3200 K"), dim_stops)
    at_mired, duv = mired_duv(uv(lamp.power * stack([generic(each) for each in sheets])))
    return f"{1e6 / float(at_mired):.1f}K{float(duv):+.5f}"


def asked(
    folder: Path, *, read: str | None = None, stop: str | None = None, **said: Any
) -> TrimAnswer:
    return trim(planned(folder, **said), "lamp", read=read, readings=Readings(stop=stop))


HALF = 'rigged = { filters = ["half CTB"] }'


def test_as_it_should_read_it_is_left(tmp_path: Path) -> None:
    """Half CTB takes 3200 to 4073 K: nothing moved, nothing is left, nothing to do."""
    found = asked(tmp_path, hung=HALF, read=lamp_reads("half CTB"))
    assert (found.trim, found.move, found.then) == ("leave", "leave", None)
    assert found.moved_mired == pytest.approx(0.0, abs=0.1)
    assert found.before.residual_mired == pytest.approx(0.0, abs=0.5)
    assert found.after == found.before
    assert found.hangs_by == "rigged"
    assert "Its colour stays." in found.why
    assert found.cautions == []


def test_what_is_read_is_what_is_left(tmp_path: Path) -> None:
    """The residual of what hangs is the reading minus the aim, to the printed digits, whatever
    sheets may be."""
    found = asked(tmp_path, hung=HALF, read="4200K+0.0030")
    assert found.aim.mired is not None
    assert found.before.residual_mired == pytest.approx(1e6 / 4200 - found.aim.mired, abs=0.002)
    assert found.before.residual_duv == pytest.approx(0.003 - found.aim.duv, abs=2e-6)


@pytest.mark.parametrize(
    ("rigged", "trim_text", "after"),
    [
        (["half CTB", "eighth CTB"], "take eighth CTB out", ["half CTB"]),
        ([], "add half CTB", ["half CTB"]),
        (["quarter CTB"], "add quarter CTB", ["quarter CTB"] * 2),
        (["full CTB"], "swap full CTB for half CTB", ["half CTB"]),
        (["half CTB"] * 2, "take one half CTB out", ["half CTB"]),
    ],
)
def test_one_sheet_brings_it_to_the_half_that_is_wanted(
    tmp_path: Path, rigged: list[str], trim_text: str, after: list[str]
) -> None:
    """Aim half CTB on 3200 K; whatever hangs, one change leads there, and it reads so then."""
    names = str(rigged).replace("'", '"')
    found = asked(tmp_path, hung=f"rigged = {{ filters = {names} }}", read=lamp_reads(*rigged))
    assert found.trim == trim_text
    assert found.after_hangs.filters == after
    assert found.after.residual_mired == pytest.approx(0.0, abs=3.0)


def test_a_filament_on_low_mains_gets_an_eighth(tmp_path: Path) -> None:
    """Dimmed by half a stop it warms 14 mired (V^0.42 against V^3.4): the bare light is found to
    be so much warmer behind its sheet, and an eighth CTB makes up for it."""
    found = asked(tmp_path, hung=HALF, read=lamp_reads("half CTB", dim_stops=0.5))
    assert found.moved_mired == pytest.approx(14.0, abs=1.0)
    assert found.trim == "add eighth CTB"
    assert "Low mains or a dimmer warms a filament." in found.why
    assert found.after.residual_mired == pytest.approx(14.0 - 16.7, abs=2.0)


def test_under_half_a_grade_no_sheet_is_hung(tmp_path: Path) -> None:
    """7 mired cool is outside a key's 5, and no sheet does better."""
    found = asked(tmp_path, hung=HALF, read="4193K")
    assert found.before.residual_mired == pytest.approx(-7.0, abs=0.1)
    assert found.before.within_tolerance is False
    assert found.trim == "leave"
    assert "under half of the smallest grade (8 mired, 0.002 Duv)" in found.why


def test_under_half_a_grade_not_even_a_sheet_that_fits(tmp_path: Path) -> None:
    """A pale sheet of 7 mired in the bag: it would cost light and gain what nobody sees."""
    path = planned(tmp_path, hung=HALF)
    pale = "kelvin = { from_k = 5600, to_k = 5389, stops = 0.17 }"
    with (tmp_path / "kit.toml").open("a", encoding="utf-8") as file:
        file.write(f'[[filter]]\nname = "pale"\nrole = "correction"\n{pale}\n')
    assert trim(path, "lamp", read="4193K").trim == "leave"


def test_inside_it_is_left_though_another_stack_were_cheaper(tmp_path: Path) -> None:
    """11 mired cool of a fill's 12 with an eighth too many: without it, it were 6 warm and
    brighter, and it is left all the same."""
    found = asked(
        tmp_path,
        hung='rigged = { filters = ["half CTB", "eighth CTB"] }',
        lights=LAMP.replace('"key"', '"fill"'),
        read="4263K+0.001",
    )
    assert found.before.residual_mired == pytest.approx(-10.9, abs=0.1)
    assert found.trim == "leave"


def test_a_lamp_that_no_sheet_brings_near_gets_none(tmp_path: Path) -> None:
    """Sodium, 277 mired warm: a full CTB would take 58 of them and not be worth its light."""
    lights = LAMP.replace("tungsten 3200 K", "high-pressure sodium HP1").replace('"key"', '"other"')
    found = asked(tmp_path, lights=lights, read="1960K+0.001")
    assert found.trim == "leave"
    assert "brings it near: a new stack by `evencast solve`" in found.why


def test_kelvin_alone_does_not_judge_green_anew(tmp_path: Path) -> None:
    """Its Duv is what was computed, and the answer says so."""
    found = asked(tmp_path, hung=HALF, read="4073K")
    assert found.read.duv is None
    assert any(each.startswith("No Duv was read") for each in found.notes)
    with_duv = asked(tmp_path, hung=HALF, read=f"4073K{found.expected_duv:+.6f}")
    assert found.before.residual_duv == pytest.approx(with_duv.before.residual_duv, abs=0.0015)


def test_green_gets_minus_green(tmp_path: Path) -> None:
    """0.004 green at the right Kelvin: an eighth minus green, and no blue or orange."""
    found = asked(tmp_path, hung=HALF, read="4073K+0.0050", keys="")
    assert found.trim == "add eighth minus green"
    assert found.before.residual_duv is not None
    assert found.after.residual_duv is not None
    took = found.before.residual_duv - found.after.residual_duv
    assert took == pytest.approx(0.0029, abs=0.0007)  # 0.0035 on 5600 K, less on warmer light


def test_a_sheet_of_which_none_is_left_is_not_hung(tmp_path: Path) -> None:
    """The kit counts no eighth CTB any more: another change, or none."""
    read = lamp_reads("half CTB", dim_stops=0.5)
    found = asked(tmp_path, hung=HALF, read=read, gone="eighth CTB")
    assert "eighth CTB" not in found.trim


def test_no_next_best_is_told_that_is_no_better_than_leaving_it(tmp_path: Path) -> None:
    """Beside the eighth there is an ND alone, which takes light and moves no colour."""
    path = planned(tmp_path, hung=HALF)
    sheets = {"half CTB": "correction", "eighth CTB": "correction", "ND 0.3": "ND"}
    write_kit(tmp_path, sheets)
    found = trim(path, "lamp", read="3900K+0.001")
    assert found.trim == "add eighth CTB"
    assert "Next best" not in found.why
    write_kit(tmp_path, sheets | {"quarter CTB": "correction"})
    assert "Next best: add quarter CTB" in trim(path, "lamp", read="3750K+0.001").why


def test_layers_of_the_plan_are_kept(tmp_path: Path) -> None:
    """With one layer allowed the half is exchanged, not added to."""
    path = planned(tmp_path, hung='rigged = { filters = ["quarter CTB"] }')
    path.write_text(
        path.read_text("utf-8").replace("[[light]]", "[limits]\nlayers = 1\n[[light]]", 1)
    )
    found = trim(path, "lamp", read=lamp_reads("quarter CTB"))
    assert found.trim == "swap quarter CTB for half CTB"


def test_what_the_plan_forbids_is_not_done(tmp_path: Path) -> None:
    """A light that may only be left, with nothing on it, is left."""
    found = asked(tmp_path, keys='moves = ["leave"]', read=lamp_reads())
    assert found.trim == "leave"
    assert "No one change that the plan allows" in found.why


def test_frost_is_never_taken_out(tmp_path: Path) -> None:
    """Frost hangs in any case: it is looked through and stays, by name or among the sheets."""
    for said in (
        {"hung": 'rigged = { filters = ["full CTB"] }', "keys": 'frost = ["light frost"]'},
        {"hung": 'rigged = { filters = ["light frost", "full CTB"] }', "keys": ""},
        {
            "hung": 'rigged = { filters = ["light frost", "full CTB"] }',
            "keys": 'frost = ["light frost"]',
        },
    ):
        found = asked(tmp_path, read=lamp_reads("full CTB", "light frost"), **said)
        assert found.trim == "swap full CTB for half CTB"
        front = [*found.after_hangs.filters, *found.after_hangs.frost]
        assert sorted(front) == ["half CTB", "light frost"]


def test_a_camera_is_held_against_its_own_balance(tmp_path: Path) -> None:
    """Camera and balance see alike: the difference of Kelvins counts in full, so that the band
    is as narrow as a meter's; against another light's colour it is not."""
    path = planned(tmp_path, hung=HALF)
    found = trim(path, "lamp", camera="4400K 2 toward magenta")
    assert found.read.known_by == "camera"
    assert found.before.residual_mired == pytest.approx(1e6 / 4400 - 1e6 / 4073, abs=0.3)
    assert any("same camera" in each for each in found.notes)
    other = '[[light]]\nname = "tube"\nrole = "fill"\nbuiltin = "FL2"\n'
    path = planned(tmp_path, hung=HALF, keys='aim = { like = "tube" }\n' + other)
    unlike = trim(path, "lamp", camera="4100K")
    assert any("15 mired" in each for each in unlike.notes)
    assert any(
        each.startswith("tube was not read: taken as computed, bare") for each in unlike.notes
    )


def test_the_tint_of_a_camera_is_the_lights_green(tmp_path: Path) -> None:
    """4 steps of 0.0005 Duv toward magenta make a light 0.002 greener than white."""
    path = planned(tmp_path, hung=HALF, camera="tint_step_duv = 0.0005")
    plain, tinted = (
        trim(path, "lamp", camera=f"4100K{tint}") for tint in ("", " 4 toward magenta")
    )
    assert plain.read.duv is not None
    assert tinted.read.duv == pytest.approx(plain.read.duv + 0.002, abs=1e-6)


def test_tint_steps_of_unknown_size_widen_the_doubt() -> None:
    """Measured once, they do not; the colour itself is the same for steps of 0.001."""
    unknown = camera_colour(4100.0, 4.0, step_duv=None, sensor=False)
    known = camera_colour(4100.0, 4.0, step_duv=0.001, sensor=False)
    assert (unknown.cct_k, unknown.duv) == (known.cct_k, known.duv)
    assert unknown.doubt("x")[:, 1].std() > 2 * known.doubt("x")[:, 1].std()


PANEL = """[[light]]
name = "lamp"
role = "fill"
builtin = "two-colour LED panel"
adjustable = {{ low_k = 2700, high_k = 6500 }}
{keys}
"""


def test_a_dial_is_turned_before_a_sheet_is_hung(tmp_path: Path) -> None:
    """A panel at 4300 K that reads as such, for a balance of 5000 K: dialled up along its own
    line, to within 25 K of where that line comes nearest."""
    panel = builtin("two-colour LED panel")
    at_mired, duv = mired_duv(uv(redial(panel, 4300.0).power))
    found = asked(
        tmp_path,
        lights=PANEL,
        balance="{ fixed_k = 5000 }",
        hung="rigged = { dial_k = 4300 }",
        read=f"{1e6 / float(at_mired):.1f}K{float(duv):+.5f}",
    )
    assert found.move == "dial"
    assert found.after_hangs.dial_k is not None
    assert found.after_hangs.dial_k % 50 == 0
    there, there_duv = mired_duv(uv(redial(panel, found.after_hangs.dial_k).power))
    assert found.after.residual_mired == pytest.approx(float(there) - 200.0, abs=0.3)
    assert found.after.residual_duv == pytest.approx(float(there_duv) - found.aim.duv, abs=2e-4)
    assert (
        found.trim
        == f"dial {found.after_hangs.dial_k - 4300:.0f} K up to {found.after_hangs.dial_k:.0f} K"
    )
    assert found.then is not None


def test_a_dial_goes_before_a_sheet_that_could_come_out(tmp_path: Path) -> None:
    """17 mired cool with an eighth CTB on it: taking that out would do, and the dial does too."""
    panel = redial(builtin("two-colour LED panel"), 5000.0).power
    at_mired, duv = mired_duv(uv(panel * generic("eighth CTB").transmittance))
    found = asked(
        tmp_path,
        lights="[tolerance.fill]\nduv = 0.01\n" + PANEL,
        balance="{ fixed_k = 5000 }",
        hung='rigged = { dial_k = 5000, filters = ["eighth CTB"] }',
        read=f"{1e6 / float(at_mired):.1f}K{float(duv):+.5f}",
    )
    assert found.move == "dial"
    assert found.after.within_tolerance is True


def test_a_dial_stops_at_its_end(tmp_path: Path) -> None:
    """A panel that goes to 5000 K is not dialled to 5600 K."""
    lights = PANEL.replace("high_k = 6500", "high_k = 5000")
    found = asked(
        tmp_path,
        lights=lights,
        balance="{ fixed_k = 5600 }",
        hung="rigged = { dial_k = 4300 }",
        read="4300K-0.006",
    )
    assert found.after_hangs.dial_k in (None, 4300.0, 5000.0)


LEVELS = 'rigged = { filters = ["half CTB"], scrims = SCRIMS, distance_m = 3 }'


@pytest.mark.parametrize(
    ("scrims", "stop", "trim_text", "left"),
    [
        ('["double"]', "f/2.8", "double out", 2 * math.log2(2.8 / 4) + 1),
        ('["single"]', "f/5.6", "double in", 2 * math.log2(5.6 / 4) - 1),
        ('["single"]', "f/4.76", "single in", 2 * math.log2(4.76 / 4) - 0.5),
        (
            '["double"]',
            "f/3.36",
            "single in the place of the double",
            2 * math.log2(3.36 / 4) + 0.5,
        ),
        ('["single"]', "f/4.2", "leave", 2 * math.log2(4.2 / 4)),
    ],
)
def test_scrims_bring_the_level_back(
    tmp_path: Path, scrims: str, stop: str, trim_text: str, left: float
) -> None:
    """A single takes half a stop and a double one; the stop read is held against the camera's
    f/4, and 0.14 stop is as near as a meter tells."""
    found = asked(
        tmp_path,
        hung=LEVELS.replace("SCRIMS", scrims),
        camera="f_stop = 4",
        read=lamp_reads("half CTB"),
        stop=stop,
    )
    assert found.trim == trim_text
    assert found.after.over_stops == pytest.approx((left, left), abs=0.001)
    assert found.after.level_met is True
    assert found.wanted_level == "f/4 of the camera"


def test_a_half_scrim_leaves_a_range(tmp_path: Path) -> None:
    """It takes no stop to a whole one, by where one stands in the beam; out, so does the level
    become a range, the higher end a stop above the lower."""
    found = asked(
        tmp_path,
        hung='rigged = { scrims = ["half double"] }',
        camera="f_stop = 4",
        keys='moves = ["scrim"]',
        stop="f/3.36",
    )
    under = 2 * math.log2(3.36 / 4)
    assert found.trim == "half double out"
    assert found.after.over_stops == pytest.approx((under, under + 1.0), abs=1e-3)


def test_a_filament_is_dimmed_last_and_an_led_before_a_sheet(tmp_path: Path) -> None:
    """Where either would do, a filament gets neutral density and an LED its dimmer."""
    keys = 'moves = ["dim", "filter"]\naim = {{ stops = 0 }}\n'
    wide = "[tolerance.fill]\nmired = 60\nduv = 0.01\nstops = 0.2\n"
    for light, trim_text in (
        ("tungsten 3200 K", "add ND 0.3"),
        ("LED phosphor 3000 K B2", "dim 1 stop"),
    ):
        lights = wide + LAMP.replace("tungsten 3200 K", light).replace('"key"', '"fill"') + keys
        found = asked(
            tmp_path,
            lights=lights,
            camera="f_stop = 4",
            balance="{ fixed_k = 3200 }",
            stop="f/5.66",
        )
        assert found.trim == trim_text


def test_a_key_filament_is_not_dimmed_out_of_its_colour(tmp_path: Path) -> None:
    """A stop of dimming warms it 28 mired: with nothing else allowed it stays a stop over."""
    found = asked(
        tmp_path,
        keys='moves = ["dim", "leave"]',
        camera="f_stop = 4",
        balance="{ fixed_k = 3200 }",
        read="3200K+0.0000",
        stop="f/5.66",
    )
    assert found.trim == "leave"
    assert found.after.level_met is False
    assert found.then is not None
    assert found.then.startswith("The level is still off")


def test_a_meter_is_never_trusted_beyond_half_a_third(tmp_path: Path) -> None:
    """Where a plan allows 0.05 stop, 0.14 is left all the same: 1/6 is what a meter tells."""
    found = asked(
        tmp_path,
        lights="[tolerance.key]\nstops = 0.05\n" + LAMP,
        hung=LEVELS.replace("SCRIMS", '["single"]'),
        camera="f_stop = 4",
        stop="f/4.2",
    )
    assert (found.trim, found.after.level_met) == ("leave", True)


def test_without_scrims_it_is_moved(tmp_path: Path) -> None:
    """1/3 stop too little at 3 m: 3 / 2^(1/6) = 2.67, told as 2.7 m; the stop left is what inverse
    square says for that."""
    found = asked(tmp_path, hung=LEVELS.replace("SCRIMS", "[]"), camera="f_stop = 4", stop="f/3.56")
    assert (found.move, found.trim) == ("move", "closer, from 3 m to 2.7 m")
    over = 2 * math.log2(3.56 / 4) + 2 * math.log2(3 / 2.7)
    assert found.after.over_stops == pytest.approx((over, over), abs=0.001)
    assert found.before.residual_mired is None
    assert found.moved_mired is None


def test_a_reading_is_freed_of_its_index_and_shutter(tmp_path: Path) -> None:
    """f/2.8 at 400 and 1/50 is f/4 at 800, but for 0.03 stop."""
    found = asked(tmp_path, hung=HALF, camera="f_stop = 4", stop="f/2.8 at 400 1/50")
    assert found.before.over_stops == pytest.approx((-0.0291, -0.0291), abs=1e-4)
    assert found.trim == "leave"


def test_an_led_is_dimmed_and_a_filament_only_where_its_colour_bears_it(tmp_path: Path) -> None:
    """An LED panel 2/3 stop over is dimmed by that; a filament would warm 19 mired, far beyond a
    key's 5, so it gets neutral density instead."""
    panel = asked(
        tmp_path,
        lights=PANEL,
        keys='moves = ["dim"]',
        camera="f_stop = 4",
        hung="rigged = { dial_k = 4300 }",
        stop="f/5.04",
    )
    assert panel.move == "leave"  # a fill of which the plan wants no level
    panel = asked(
        tmp_path,
        lights=PANEL,
        keys='moves = ["dim"]\naim = { stops = 0 }',
        camera="f_stop = 4",
        hung="rigged = { dial_k = 4300 }",
        stop="f/5.04",
    )
    assert panel.trim == "dim 2/3 stop"
    assert panel.after_hangs.dim_stops == pytest.approx(2 / 3, abs=1e-4)
    lamp = asked(
        tmp_path,
        keys='moves = ["dim", "filter"]',
        camera="f_stop = 4",
        hung=HALF,
        read=lamp_reads("half CTB"),
        stop="f/5.6",
    )
    assert (lamp.move, lamp.trim) == ("add", "add ND 0.3")
    assert lamp.after.within_tolerance is True


def test_colour_goes_first_and_the_level_is_next(tmp_path: Path) -> None:
    """A lamp that is both too warm and too dark gets its sheet; what the sheet takes counts for
    the level that is told as next."""
    found = asked(
        tmp_path,
        hung=LEVELS.replace("SCRIMS", '["double"]'),
        camera="f_stop = 4",
        read=lamp_reads("half CTB", dim_stops=0.5),
        stop="f/2.8",
    )
    assert found.trim == "add eighth CTB"
    assert found.then == "The level is next: double out, once this is read again."
    assert found.before.over_stops is not None
    assert found.after.over_stops is not None
    lost = found.before.over_stops[0] - found.after.over_stops[0]
    lamp = builtin("tungsten 3200 K").power * generic("half CTB").transmittance
    through = lamp * generic("eighth CTB").transmittance
    assert lost == pytest.approx(-np.log2(xyz(through)[1] / xyz(lamp)[1]), abs=0.1)


def test_a_level_against_the_key_as_it_was_read(tmp_path: Path) -> None:
    """A fill wanted a stop under the key, which read f/4 at index 400: f/4 at 800 is a stop under
    it already."""
    lights = LAMP.replace('role = "key"', 'role = "fill"') + (
        '[[light]]\nname = "sun"\nrole = "key"\nbuiltin = "daylight D55"\n'
    )
    hung = HALF + '\n[[setup.light]]\nname = "sun"\nread = { f_stop = 4, exposure_index = 400 }\n'
    found = asked(tmp_path, lights=lights, hung=hung, keys="aim = { stops = -1 }", stop="f/4")
    assert found.wanted_level == "1 stop under sun as it was read, f/4 read at 400"
    assert found.before.over_stops == pytest.approx((0.0, 0.0), abs=1e-6)


def test_lux_are_a_range_by_the_constants_of_meters(tmp_path: Path) -> None:
    """f/4 at 800 and 1/50 is 250 and 330 times one lux: 250 lx is as wanted by a disc and 0.4
    stop under by a dome, so it is left."""
    path = planned(tmp_path, hung=HALF, camera="f_stop = 4")
    found = trim(path, "lamp", readings=Readings(lux=250.0))
    assert found.before.over_stops == pytest.approx((-math.log2(330 / 250), 0.0), abs=1e-4)
    assert found.trim == "leave"


def test_what_was_planned_counts_where_nothing_was_rigged(tmp_path: Path) -> None:
    """And the answer says so."""
    found = asked(
        tmp_path, hung='planned = { filters = ["half CTB"] }', read=lamp_reads("half CTB")
    )
    assert (found.hangs_by, found.hangs.filters) == ("planned", ["half CTB"])
    assert any(each.startswith("Nothing is written as rigged") for each in found.notes)


def test_what_the_set_up_read_is_taken_and_a_new_reading_is_told_beside_it(tmp_path: Path) -> None:
    """Without options the set-up's own reading; with them the change since."""
    hung = HALF + '\nread = { cct_k = 4073, duv = 0.001, time = "2031-05-04T16:20+02:00" }'
    own = asked(tmp_path, hung=hung)
    assert (own.read.cct_k, own.read.time) == (4073.0, "2031-05-04T16:20+02:00")
    assert own.moved_since == "beside what the plan takes it for"
    new = asked(tmp_path, hung=hung, read="3900K+0.001")
    assert new.moved_since == "since it was read before (2031-05-04T16:20+02:00)"
    assert new.moved_mired == pytest.approx(1e6 / 3900 - 1e6 / 4073, abs=1.0)


def test_sheets_on_the_pane_stand_before_the_view_too(tmp_path: Path) -> None:
    """A view behind a window with half CTO on it is expected through that half."""
    lights = LAMP + (
        '[[light]]\nname = "view"\nrole = "view"\nbuiltin = "daylight D65"\nbehind = "pane"\n'
        '[[light]]\nname = "pane"\nrole = "fill"\nbuiltin = "daylight D65"\nfitting = "window"\n'
    )
    hung = HALF + '\n[[setup.light]]\nname = "pane"\nrigged = { filters = ["half CTO"] }\n'
    found = trim(planned(tmp_path, lights=lights, hung=hung), "view", read="4600K+0.001")
    assert found.hangs.frost == ["half CTO"]
    through = builtin("daylight D65").power * generic("half CTO").transmittance
    assert found.expected_k == pytest.approx(1e6 / float(mired_duv(uv(through))[0]), abs=60)


@pytest.mark.parametrize(
    ("options", "what"),
    [
        ({}, "nothing was read of lamp"),
        ({"read": "foo"}, '"foo" is not a reading of a colour meter'),
        ({"read": "4000K+0.2"}, "a Duv of 0.2 is none that a white light has"),
        ({"read": "50K"}, "50 K is not a colour temperature this tool knows"),
        ({"camera": "warm"}, '"warm" is not a camera\'s balance'),
        ({"camera": "4000K 3"}, '"3" is not a tint'),
        (
            {"camera": "4000K 900 toward green"},
            "a tint of 900 steps is none that a white light has",
        ),
        (
            {"read": "4000K", "camera": "4000K"},
            "its colour is read twice, by --read and by --camera",
        ),
        ({"read": "4000K", "setup": "roof"}, 'no set-up is called "roof"'),
        ({"read": "4000K", "balance": "warm"}, '"warm" is not a balance'),
        ({"readings": Readings(stop="f/0")}, "0 is not above 0"),
        ({"readings": Readings(lux=1.0, fc=1.0)}, "the level is given twice, by --lux and by --fc"),
    ],
)
def test_what_cannot_be_is_said_in_words(
    tmp_path: Path, options: dict[str, Any], what: str
) -> None:
    """Each with a remedy."""
    with pytest.raises(EvencastError) as caught:
        trim(planned(tmp_path, hung=HALF), "lamp", **options)
    assert caught.value.what == what
    assert caught.value.remedy


def test_a_light_that_is_off_or_not_there(tmp_path: Path) -> None:
    """Off lights read nothing; unknown ones are named."""
    path = planned(tmp_path, hung="rigged = { off = true }")
    with pytest.raises(EvencastError) as caught:
        trim(path, "lamp", read="4000K")
    assert caught.value.what == "lamp is switched off in this set-up"
    with pytest.raises(EvencastError) as caught:
        trim(path, "lump", read="4000K")
    assert caught.value.remedy == 'Name one of its lights: "lamp".'
    path = planned(tmp_path, hung='rigged = { swapped_for = "daylight bulb" }')
    with pytest.raises(EvencastError) as caught:
        trim(path, "lamp", read="4000K")
    assert caught.value.what == 'nothing it may be swapped for is called "daylight bulb"'


def test_a_range_of_balances_needs_one_named(tmp_path: Path) -> None:
    """--balance goes before the plan's, and is needed where the plan has several."""
    path = planned(tmp_path, hung=HALF, balance="{ at_k = [3200, 5600] }")
    with pytest.raises(EvencastError) as caught:
        trim(path, "lamp", read="4073K")
    assert "--balance 4300K" in caught.value.remedy
    found = trim(path, "lamp", read=lamp_reads("half CTB"), balance="4073K")
    assert (found.balance.label, found.trim) == ("4073K", "leave")


def test_a_next_best_is_better_than_to_leave_it(tmp_path: Path) -> None:
    """Half hangs where half and eighth are wanted, and the kit has nothing else that helps but
    ND, which takes light alone: it is not named."""
    path = planned(tmp_path, hung=HALF, balance="{ fixed_k = 4370 }")
    names = [f'name = "{name}"' for name in ("half CTB", "eighth CTB", "ND 0.3")]
    head, *sheets = (tmp_path / "kit.toml").read_text("utf-8").split("[[filter]]\n")
    kept = [each for each in sheets if each.startswith(tuple(names))]
    (tmp_path / "kit.toml").write_text("[[filter]]\n".join([head, *kept]), "utf-8")
    found = trim(path, "lamp", read=lamp_reads("half CTB"), readings=Readings())
    assert found.trim == "add eighth CTB"
    assert "ND" not in found.why
