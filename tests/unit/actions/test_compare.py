"""Two plans or set-ups beside each other: every kind of difference, and the way back."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from evencast.actions.compare import compare
from evencast.colour import mired_duv, uv
from evencast.errors import EvencastError
from evencast.filters import generic, stack
from evencast.lights import builtin, dim_tungsten, redial
from evencast.results.compare import CompareAnswer, ComparedLight, Difference
from tests.unit.actions.test_trim import kit

PLAN = """format = 1
name = "{name}"
kit = "kit.toml"
mains_hz = 50
[camera]
{camera}
{lights}
[[setup]]
name = "desk"
[[setup.light]]
name = "lamp"
{lamp}
{more}
"""
CAMERA = "balance = { fixed_k = 4300 }\nshutter_s = 0.02\n"
LAMP = '[[light]]\nname = "lamp"\nrole = "key"\nbuiltin = "tungsten 3200 K"\n'


def write(
    folder: Path,
    file: str,
    lamp: str,
    *,
    camera: str = CAMERA,
    lights: str = LAMP,
    more: str = "",
) -> Path:
    (folder / "kit.toml").write_text(kit(), "utf-8")
    path = folder / file
    text = PLAN.format(name=file, camera=camera, lights=lights, lamp=lamp, more=more)
    path.write_text(text, "utf-8")
    return path


def beside(folder: Path, old: str, new: str) -> ComparedLight:
    """The lamp in two plans that say this of it."""
    answer = compare(write(folder, "old.toml", old), write(folder, "new.toml", new))
    (lamp,) = answer.lights
    return lamp


def only(light: ComparedLight) -> Difference:
    (difference,) = light.differences
    return difference


def cameras(folder: Path, old: str, new: str) -> CompareAnswer:
    hung = "rigged = {}"
    return compare(
        write(folder, "old.toml", hung, camera=old), write(folder, "new.toml", hung, camera=new)
    )


def read(*sheets: str, dim_stops: float = 0.0, level: str = "") -> str:
    lamp = dim_tungsten(builtin("tungsten 3200 K"), dim_stops)
    at_mired, duv = mired_duv(uv(lamp.power * stack([generic(each) for each in sheets])))
    return f"read = {{ cct_k = {1e6 / float(at_mired):.1f}, duv = {float(duv):.5f}{level} }}"


@pytest.mark.parametrize(
    "lamp",
    [
        "",
        'planned = { filters = ["half CTB"] }',
        'rigged = { filters = ["half CTB"], scrims = ["single"], distance_m = 3 }\n'
        'read = { cct_k = 4100, duv = 0.001, f_stop = 4, sky = "sun" }',
    ],
)
def test_a_plan_beside_itself_is_the_same(tmp_path: Path, lamp: str) -> None:
    """No difference, nothing to do."""
    path = write(tmp_path, "a.toml", lamp)
    answer = compare(path, path)
    assert answer.camera == []
    assert [(each.state, each.differences, each.then) for each in answer.lights] == [
        ("same", [], [])
    ]


@pytest.mark.parametrize(
    ("old", "new", "what", "was", "now", "back"),
    [
        (
            'filters = ["half CTB"]',
            'filters = ["quarter CTB"]',
            "filters",
            "half CTB",
            "quarter CTB",
            "take out quarter CTB, put in half CTB",
        ),
        (
            'filters = ["half CTB", "half CTB"]',
            'filters = ["half CTB"]',
            "filters",
            "half CTB + half CTB",
            "half CTB",
            "put in half CTB",
        ),
        ("", 'filters = ["half CTB"]', "filters", "nothing", "half CTB", "take out half CTB"),
        (
            'filters = ["half CTB", "eighth CTB"]',
            'filters = ["eighth CTB", "half CTB"]',
            "filters",
            "half CTB + eighth CTB",
            "eighth CTB + half CTB",
            None,
        ),
        (
            'scrims = ["double"]',
            'scrims = ["single"]',
            "scrims",
            "double",
            "single",
            "take out single, put in double",
        ),
        ("dim_stops = 1", "", "dimmer", "dimmed 1 stop", "full", "set the dimmer to dimmed 1 stop"),
        ("", "dim_stops = 1", "dimmer", "full", "dimmed 1 stop", "set the dimmer to full"),
        ("dial_k = 4300", "dial_k = 4000", "dial", "4300 K", "4000 K", "dial 4300 K"),
        ("", "dial_k = 4000", "dial", None, "4000 K", None),
        ("", "off = true", "switched", "on", "off", "switch it on"),
        ('focus = "flood"', 'focus = "spot"', "focus", "flood", "spot", "set it to flood"),
        ("distance_m = 3", "distance_m = 2", "distance", "3 m", "2 m", "move it to 3 m"),
        ("height_m = 2.4", "height_m = 2", "height", "2.4 m", "2 m", "set it to 2.4 m"),
        ('note = "flag left"', "", "note", "flag left", None, None),
    ],
)
def test_everything_that_hangs_or_is_set(
    tmp_path: Path, old: str, new: str, what: str, was: str, now: str, back: str | None
) -> None:
    """Old, new, and what to do to get back."""
    light = beside(tmp_path, f"rigged = {{ {old} }}", f"rigged = {{ {new} }}")
    difference = only(light)
    assert light.state == "differs"
    assert (difference.what, difference.old, difference.new) == (what, was, now)
    assert difference.back == back


def test_amounts_of_light_have_a_sign(tmp_path: Path) -> None:
    """Positive is brighter in the new: 2 m for 3 m gives 2 log2(3/2), a dimmer a stop down -1."""
    nearer = only(beside(tmp_path, "rigged = { distance_m = 3 }", "rigged = { distance_m = 2 }"))
    gain = 2 * math.log2(3 / 2)
    assert nearer.stops == pytest.approx((gain, gain), abs=1e-4)
    assert nearer.told == "1 1/3 stop more by inverse square"
    dimmer = only(beside(tmp_path, "rigged = {}", "rigged = { dim_stops = 1 }"))
    assert (dimmer.stops, dimmer.told) == ((-1.0, -1.0), "1 stop less")


def test_colours_read_are_told_warm_and_cool(tmp_path: Path) -> None:
    """New minus old: 4000 K after 4200 K is 11.9 mired warm, and 0.002 greener."""
    hung = "rigged = {}\nread = { cct_k = %d, duv = %s }"
    found = only(beside(tmp_path, hung % (4200, "0.001"), hung % (4000, "0.003")))
    assert (found.what, found.told) == ("colour read", "12 mired warm, a little green")
    assert found.mired == pytest.approx(1e6 / 4000 - 1e6 / 4200, abs=0.001)
    assert found.duv == pytest.approx(0.002, abs=1e-6)
    assert only(beside(tmp_path, hung % (4200, "0.001"), hung % (4190, "0.001"))).told == (
        "1 mired warm, less than is seen"
    )


def test_levels_read_are_freed_of_index_and_shutter(tmp_path: Path) -> None:
    """f/2.8 at 200 and 1/50 s beside f/4 at 800 and 1/100 s: N^2 / (S t) of each, ISO 2720."""
    old = "rigged = {}\nread = { f_stop = 4, exposure_index = 800, shutter_s = 0.01 }"
    new = "rigged = {}\nread = { f_stop = 2.8, exposure_index = 200, shutter_s = 0.02 }"
    found = only(beside(tmp_path, old, new))
    by = math.log2((2.8**2 / (200 * 0.02)) / (4**2 / (800 * 0.01)))
    assert found.what == "level read"
    assert found.stops == pytest.approx((by, by), abs=1e-4)


def test_lux_beside_a_stop_is_a_range(tmp_path: Path) -> None:
    """By the constants of a disc and of a dome, 0.4 stop apart."""
    old = "rigged = {}\nread = { f_stop = 4, exposure_index = 800 }"
    found = only(beside(tmp_path, old, "rigged = {}\nread = { lux = 250 }"))
    assert found.stops == pytest.approx((-math.log2(330 / 250), 0.0), abs=1e-4)


def test_what_was_read_in_one_alone(tmp_path: Path) -> None:
    """The new one without a reading is to be read; an old one without it is only told. When and
    under which sky differs from nothing that was read."""
    read_so = 'cct_k = 4200, f_stop = 4, time = "2031-05-04T16:20+02:00", sky = "sun"'
    with_read, without = f"rigged = {{}}\nread = {{ {read_so} }}", "rigged = {}"
    gone = beside(tmp_path, with_read, without)
    assert [(each.what, each.told, each.back) for each in gone.differences] == [
        ("colour read", "not read in the new", "read it as it hangs"),
        ("level read", "not read in the new", "read it as it hangs"),
    ]
    assert gone.then == []
    late = beside(tmp_path, without, with_read)
    assert [(each.told, each.back) for each in late.differences] == [
        ("not read in the old", None),
        ("not read in the old", None),
    ]


def test_time_and_sky_alone_make_no_difference(tmp_path: Path) -> None:
    """They are told, and the light counts as the same."""
    hung = 'rigged = {}\nread = { cct_k = 4200, time = "2031-0%d-04T16:20+02:00", sky = "%s" }'
    light = beside(tmp_path, hung % (5, "sun"), hung % (6, "haze"))
    assert light.state == "same"
    assert [(each.what, each.old, each.new) for each in light.differences] == [
        ("time", "2031-05-04T16:20+02:00", "2031-06-04T16:20+02:00"),
        ("sky", "sun", "haze"),
    ]


def test_where_a_side_says_nothing_of_what_hangs(tmp_path: Path) -> None:
    """No sheet is called missing where nobody wrote down any."""
    found = only(beside(tmp_path, "", 'rigged = { filters = ["half CTB"] }'))
    assert (found.what, found.old, found.new, found.back) == ("hangs", None, "half CTB", None)
    assert found.told == "the old says nothing of what hangs"


def test_hung_as_it_was_it_reads_as_it_did(tmp_path: Path) -> None:
    """The eighth is missing and so it reads warm: put back, the light reads as in the old, and no
    trim is asked for."""
    light = beside(
        tmp_path,
        'rigged = { filters = ["half CTB", "eighth CTB"] }\n' + read("half CTB", "eighth CTB"),
        'rigged = { filters = ["half CTB"] }\n' + read("half CTB"),
    )
    assert [each.what for each in light.differences] == ["filters", "colour read"]
    (then,) = light.then
    assert then.startswith("hung so, it reads 0 mired")
    assert then.endswith("beside the old: near enough to it")


def test_a_lamp_that_changed_itself_gets_a_trim(tmp_path: Path) -> None:
    """The same sheet, the lamp on low mains: 14 mired warm of the old, an eighth CTB."""
    hung = 'rigged = { filters = ["half CTB"] }\n'
    light = beside(tmp_path, hung + read("half CTB"), hung + read("half CTB", dim_stops=0.5))
    assert [each.what for each in light.differences] == ["colour read"]
    assert light.then[0].startswith("it reads 14 mired warm")
    assert light.then[1].startswith("add eighth CTB: it is then ")


def test_a_light_that_gives_less_is_moved(tmp_path: Path) -> None:
    """1/3 stop less from the same 3 m: 3 / 2^(1/6) is 2.67 m, told as 2.7 m."""
    hung = "rigged = { distance_m = 3 }\nread = { f_stop = %s, exposure_index = 800 }"
    light = beside(tmp_path, hung % "4", hung % "3.56")
    assert light.then == ["closer, from 3 m to 2.7 m: its level is then as it was"]


def test_what_hangs_otherwise_counts_for_the_level(tmp_path: Path) -> None:
    """A double more in the new takes the stop that is missing: with it out nothing is left."""
    hung = (
        "rigged = { scrims = [%s], distance_m = 3 }\nread = { f_stop = %s, exposure_index = 800 }"
    )
    light = beside(tmp_path, hung % ("", "4"), hung % ('"double"', "2.83"))
    assert [each.what for each in light.differences] == ["scrims", "level read"]
    assert light.then == []


def test_a_dimmer_counts_for_the_level(tmp_path: Path) -> None:
    """A stop on the dimmer of an LED is the stop that is missing: up again, nothing is left."""
    led = LAMP.replace("tungsten 3200 K", "LED phosphor 3000 K B2")
    hung = (
        "rigged = { dim_stops = %d, distance_m = 3 }\nread = { f_stop = %s, exposure_index = 800 }"
    )
    answer = compare(
        write(tmp_path, "old.toml", hung % (0, "4"), lights=led),
        write(tmp_path, "new.toml", hung % (1, "2.83"), lights=led),
    )
    assert [each.what for each in answer.lights[0].differences] == ["dimmer", "level read"]
    assert answer.lights[0].then == []


def test_a_dial_counts_for_the_colour(tmp_path: Path) -> None:
    """A panel at 4000 in place of 4300 K, each as it reads there: dialled back it reads so."""
    panel = (
        '[[light]]\nname = "lamp"\nrole = "key"\nbuiltin = "two-colour LED panel"\n'
        "adjustable = { low_k = 2700, high_k = 6500 }\n"
    )

    def hung(dial_k: int) -> str:
        at_mired, duv = mired_duv(uv(redial(builtin("two-colour LED panel"), dial_k).power))
        colour = f"cct_k = {1e6 / float(at_mired):.1f}, duv = {float(duv):.5f}"
        return f"rigged = {{ dial_k = {dial_k} }}\nread = {{ {colour} }}"

    answer = compare(
        write(tmp_path, "old.toml", hung(4300), lights=panel),
        write(tmp_path, "new.toml", hung(4000), lights=panel),
    )
    (then,) = answer.lights[0].then
    assert then == "hung so, it reads 0 mired beside the old: near enough to it"


def test_the_old_role_says_how_near_is_near_enough(tmp_path: Path) -> None:
    """8.9 mired warm is too much for what was a key, though it is a background now."""
    hung = "rigged = {}\nread = { cct_k = %d, duv = 0.001 }"
    light = LAMP.replace('"key"', '"%s"') + 'moves = ["leave"]\n'
    sides = [
        write(tmp_path, f"{role}.toml", hung % cct_k, lights=light % role)
        for role, cct_k in (("key", 3200), ("background", 3111))
    ]
    there = compare(*sides).lights[0].then
    assert there[0] == "it reads 9 mired warm beside the old: not near enough"
    assert compare(*reversed(sides)).lights[0].then == []


def test_a_meter_beside_a_camera_is_told(tmp_path: Path) -> None:
    """They may see one lamp otherwise."""
    old = "rigged = {}\nread = { cct_k = 4200, duv = 0.001 }"
    found = only(beside(tmp_path, old, 'rigged = {}\nread = { cct_k = 4000, tint = "none" }'))
    assert found.told.endswith("one by a meter, one by a camera, which may see it otherwise")
    assert found.new == "4000 K, Duv +0.0000 by the camera"


def test_a_lens_that_was_turned_is_read_again(tmp_path: Path) -> None:
    """Flood to spot is worth 2 stops and more, nobody knows how much: no trim of the level."""
    hung = 'rigged = { focus = "%s", distance_m = 3 }\nread = { f_stop = %s, exposure_index = 800 }'
    light = beside(tmp_path, hung % ("flood", "4"), hung % ("spot", "11"))
    assert light.then == ["with its lens as it was, read its level again"]


def test_what_the_camera_differs_in(tmp_path: Path) -> None:
    """Balance in mired, index, shutter and stop in stops of exposure, and all together."""
    answer = cameras(
        tmp_path,
        "balance = { fixed_k = 4300 }\nexposure_index = 800\nshutter_s = 0.02\nt_stop = 2.8",
        "balance = { fixed_k = 5600 }\nexposure_index = 400\nshutter_s = 0.01\nt_stop = 1.4",
    )
    found = {each.what: each for each in answer.camera}
    assert list(found) == ["balance", "index", "shutter", "stop", "in all"]
    assert found["balance"].mired == pytest.approx(1e6 / 5600 - 1e6 / 4300, abs=0.001)
    assert found["balance"].told == "the picture 54 mired warmer"
    assert (found["index"].stops, found["shutter"].stops) == ((-1.0, -1.0), (-1.0, -1.0))
    assert found["stop"].stops == (2.0, 2.0)
    assert (found["in all"].stops, found["in all"].told) == ((0.0, 0.0), "the same exposure")
    assert [each.back for each in answer.camera] == [
        "balance at 4300 K",
        "set 800",
        "set 1/50 s",
        "set T2.8",
        None,
    ]


def test_a_t_stop_beside_an_f_stop_has_no_number(tmp_path: Path) -> None:
    """Only the lens knows how far they lie apart."""
    answer = cameras(tmp_path, CAMERA + "t_stop = 2.8", CAMERA + "f_stop = 2.8")
    (stop,) = answer.camera
    assert (stop.old, stop.new, stop.stops, stop.told) == ("T2.8", "f/2.8", None, "")


@pytest.mark.parametrize(
    ("balance", "words"),
    [
        ('{ from_card_under = "lamp" }', "a card under lamp"),
        ("{ low_k = 3200, high_k = 5600, step_k = 100 }", "3200 to 5600 K"),
        ("{ at_k = [3200, 5600] }", "3200, 5600 K"),
        ("{ fixed_k = 4300, duv = 0.002 }", "4300 K, Duv +0.0020"),
    ],
)
def test_every_kind_of_balance_has_words(tmp_path: Path, balance: str, words: str) -> None:
    """And none needs to be solved for a comparison."""
    answer = cameras(tmp_path, CAMERA, CAMERA.replace("{ fixed_k = 4300 }", balance))
    assert (answer.camera[0].old, answer.camera[0].new) == ("4300 K", words)


def test_what_the_plan_says_of_a_light(tmp_path: Path) -> None:
    """What it is taken for, its role, its aim and its count, whichever set-up they come from."""
    other = LAMP.replace('"tungsten 3200 K"', '"daylight D65"').replace("key", "fill")
    other += "aim = { mired = -20, stops = -1 }\ncount = 2\n"
    answer = compare(
        write(tmp_path, "old.toml", "rigged = {}"),
        write(tmp_path, "new.toml", "rigged = {}", lights=other),
    )
    found = {each.what: each for each in answer.lights[0].differences}
    assert list(found) == ["taken for", "role", "aim", "count"]
    assert found["taken for"].mired == pytest.approx(1e6 / 6504 - 1e6 / 3200, abs=0.5)
    assert (found["aim"].old, found["aim"].new) == ("white", "20 mired cool, -1 stop to the key")
    assert found["role"].back == "write role = key"


def test_lights_in_one_plan_alone(tmp_path: Path) -> None:
    """Gone with what hung on it, new to be switched off; the order is the old plan's."""
    second = '[[light]]\nname = "{}"\nrole = "fill"\nbuiltin = "FL2"\n'
    hung = '[[setup.light]]\nname = "tube"\nrigged = { filters = ["half CTO"], distance_m = 2 }'
    old = write(tmp_path, "old.toml", "", lights=second.format("tube") + LAMP, more=hung)
    answer = compare(old, write(tmp_path, "new.toml", "", lights=LAMP + second.format("hall")))
    assert [(each.name, each.state) for each in answer.lights] == [
        ("tube", "gone"),
        ("lamp", "same"),
        ("hall", "new"),
    ]
    assert answer.lights[0].then == ["write it into the new plan and light it: half CTO, 2 m"]
    assert answer.lights[2].then == ["switch it off or flag it: the old had it not"]


def test_two_set_ups_of_one_plan(tmp_path: Path) -> None:
    """The second plan is left out, and both set-ups are named."""
    more = '[[setup]]\nname = "door"\n[[setup.light]]\nname = "lamp"\nrigged = { dim_stops = 1 }'
    path = write(tmp_path, "a.toml", "rigged = {}", more=more)
    answer = compare(path, None, setup="desk", with_setup="DOOR")
    assert (answer.old.setup, answer.new.setup) == ("desk", "door")
    assert only(answer.lights[0]).what == "dimmer"
    with pytest.raises(EvencastError) as caught:
        compare(path, None, setup="desk")
    assert caught.value.what == "there is nothing to compare with"
    with pytest.raises(EvencastError) as caught:
        compare(path, path)
    assert "which one is meant is not said" in caught.value.what


def test_another_lamp_is_read_again(tmp_path: Path) -> None:
    """What a swapped lamp reads says nothing of the one that was there."""
    swap = LAMP + (
        'moves = ["swap", "leave"]\nswap = [{ name = "day", builtin = "LED phosphor 5100 K B4" }]\n'
    )
    answer = compare(
        write(tmp_path, "old.toml", "rigged = {}\nread = { cct_k = 3200 }", lights=swap),
        write(
            tmp_path,
            "new.toml",
            'rigged = { swapped_for = "day" }\nread = { cct_k = 5100 }',
            lights=swap,
        ),
    )
    assert [each.what for each in answer.lights[0].differences] == ["lamp", "colour read"]
    assert answer.lights[0].differences[0].back == "put its own lamp in"
    assert answer.lights[0].then == ["with its lamp as it was, read it again"]


def test_sheets_that_the_new_kit_has_not(tmp_path: Path) -> None:
    """The way back names them; whether they are in the bag is said as well."""
    old = write(tmp_path, "old.toml", 'rigged = { filters = ["three-quarter CTB"] }')
    answer = compare(old, write(tmp_path, "new.toml", "rigged = {}"))
    assert only(answer.lights[0]).back == "put in three-quarter CTB"
    assert any("three-quarter CTB" in each.message for each in answer.problems)
