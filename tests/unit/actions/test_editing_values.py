from __future__ import annotations

import tomllib
from typing import Any

import pytest

from evencast import tables
from evencast.actions.editing.document import KIT
from evencast.actions.editing.steps import shortest, step_level, stepped_stops
from evencast.actions.editing.values import add_entry, remove_entry, set_value
from evencast.errors import DocumentErrors, EvencastError

PLAN = tables.demo_documents()["plan.toml"]
THE_KIT = tables.demo_documents()["kit.toml"]


@pytest.mark.parametrize(
    ("path", "value", "old", "new", "said"),
    [
        (
            ("light", "key fresnel", "level", "lux"),
            "1600",
            "lux = 1400",
            "lux = 1600",
            "key Fresnel: level 1400 lx -> 1600 lx",
        ),
        (
            ("light", "key Fresnel", "size"),
            "12 in",
            'size_mm = 150\nwatts = 650\ncircuit = "bench sockets"\n',
            'watts = 650\ncircuit = "bench sockets"\nsize_in = 12\n',
            "key Fresnel: size 150 mm -> 12 in",
        ),
        (
            ("light", "key Fresnel", "size_mm"),
            "160",
            "size_mm = 150",
            "size_mm = 160",
            "key Fresnel: size 150 mm -> 160 mm",
        ),
        (
            ("light", "key Fresnel", "moves"),
            "filter, dim, leave",
            'moves = ["filter", "scrim", "dim", "leave"]',
            'moves = ["filter", "dim", "leave"]',
            "key Fresnel: moves filter, scrim, dim and leave -> filter, dim and leave",
        ),
        (
            ("camera", "balance"),
            {"fixed_k": "4300", "duv": "", "step_k": None},
            "balance = { low_k = 2800, high_k = 6500, step_k = 100 }",
            "balance = { fixed_k = 4300 }",
            "camera balance low 2800 K, high 6500 K, step 100 K -> fixed 4300 K",
        ),
        (
            ("spot", "back wall", "light", "Yard lamp", "lux"),
            "3,5",
            'name = "yard lamp", lux = 3 }',
            'name = "yard lamp", lux = 3.5 }',
            "yard lamp, back wall: 3 lx -> 3.5 lx",
        ),
        (
            ("circuit", "bench sockets", "breaker_a"),
            "10",
            "breaker_a = 16",
            "breaker_a = 10",
            "bench sockets: breaker 16 A -> 10 A",
        ),
        (
            ("limits", "layers"),
            2,
            "layers = 3",
            "layers = 2",
            "limits layers 3 -> 2",
        ),
        (("mains_hz",), "60", "mains_hz = 50", "mains_hz = 60", "mains 50 Hz -> 60 Hz"),
        (
            ("light", "edge panel", "amps"),
            "",
            "amps = 0.6\n",
            "",
            "edge panel: amps 0.6 A taken away",
        ),
        (
            ("light", "north window", "aim", "stops"),
            None,
            "{ mired = -10, stops = -1 }",
            "{ mired = -10 }",
            "north window: aim stops 1 stop under taken away",
        ),
    ],
)
def test_one_value_is_set_and_nothing_else(
    path: tuple[str, ...], value: Any, old: str, new: str, said: str
) -> None:
    """Read from a form's text as the model takes it; the history says from what to what."""
    assert PLAN.count(old) == 1
    edited = set_value(PLAN, path, value)
    assert edited.text == PLAN.replace(old, new)
    assert edited.said == said


@pytest.mark.parametrize(
    ("path", "value", "inside"),
    [
        (("tolerance", "key", "mired"), "-3 to 8", {"mired": [-3, 8]}),
        (("tolerance", "key", "mired"), "4", {"mired": 4}),
        (("light", "key Fresnel", "distance"), "3.5 m", 3.5),
        (("limits", "loss_stops"), "1,5", 1.5),
        (("weights", "stops"), "2", {"stops": 2}),
        (
            ("spot", "back wall", "light", "bench lamp", "lux"),
            "4",
            {"name": "bench lamp", "lux": 4},
        ),
    ],
)
def test_what_was_not_there_is_added(path: tuple[str, ...], value: str, inside: object) -> None:
    """With the tables round it, and a light that a spot did not speak of yet."""
    after = tomllib.loads(set_value(PLAN, path, value).text)
    if path[0] == "spot":
        assert after["spot"][2]["light"][-1] == inside
    elif path[0] == "light":
        assert after["light"][0]["distance_m"] == inside
    else:
        found = after[path[0]]
        assert found.get(path[1], found) == inside or found == inside
    lines = set(set_value(PLAN, path, value).text.splitlines())
    assert set(PLAN.splitlines()) <= lines


@pytest.mark.parametrize(
    ("path", "value", "where", "what"),
    [
        (
            ("light", "key Fresnel", "size"),
            "wide",
            'the plan, light "key Fresnel".size',
            '"wide" is not a length',
        ),
        (
            ("light", "garden", "distance"),
            "3",
            'the plan, light "garden".distance',
            '"3" is not a length with its unit',
        ),
        (
            ("camera", "exposure_index"),
            "fast",
            "the plan, camera.exposure_index",
            '"fast" is not a number',
        ),
        (
            ("light", "key Fresnel", "level", "lux"),
            "1,400",
            'the plan, light "key Fresnel".level.lux',
            '"1,400" is not a number of one meaning',
        ),
        (
            ("camera", "balance"),
            "4300",
            "the plan, camera.balance",
            '"4300" is text, where several values belong',
        ),
        (
            ("setup", "dusk", "balance_k"),
            "4300",
            "the plan",
            'no set-up is called "dusk"',
        ),
    ],
)
def test_what_cannot_be_read_names_its_field(
    path: tuple[str, ...], value: str, where: str, what: str
) -> None:
    """And the text stays as it was."""
    with pytest.raises(EvencastError) as raised:
        set_value(PLAN, path, value)
    assert (raised.value.where, raised.value.what) == (where, what)


@pytest.mark.parametrize(
    ("path", "value", "what"),
    [
        (
            ("light", "garden", "name"),
            "gar\ud800den",
            "it holds half of a character, which no file can keep",
        ),
        (("limits", "layers"), "9" * 400, "it has more digits than any number on a set"),
    ],
)
def test_what_no_file_can_keep_is_refused(path: tuple[str, ...], value: str, what: str) -> None:
    """Before anybody tries to save it."""
    with pytest.raises(EvencastError) as raised:
        set_value(PLAN, path, value)
    assert raised.value.what == what


@pytest.mark.parametrize(
    ("path", "value", "where"),
    [
        (("light", "garden", "role"), "vew", 'the plan, light "garden".role'),
        (("limits", "layers"), "9", "the plan, limits.layers"),
        (("light", "garden", "behind"), "door", 'the plan, light "garden".behind'),
        (("light", "key Fresnel", "level", "fc"), "9", 'the plan, light "key Fresnel".level'),
        (
            ("light", "north window", "level"),
            None,
            'the plan, spot "his face, key side".light "north window".stops',
        ),
    ],
)
def test_what_the_plan_would_not_take_is_refused(
    path: tuple[str, ...], value: str | None, where: str
) -> None:
    """With the problems it would have."""
    with pytest.raises(DocumentErrors) as raised:
        set_value(PLAN, path, value)
    assert raised.value.problems[0].where == where


def test_a_plan_with_an_error_can_be_mended_step_by_step() -> None:
    """A change is refused for errors that it brings, not for those that were there."""
    broken = PLAN.replace('role = "fill"\nbuiltin', 'role = "fil"\nbuiltin').replace(
        "layers = 3", "layers = 9"
    )
    once = set_value(broken, ("limits", "layers"), "3").text
    assert set_value(once, ("light", "north window", "role"), "fill").text == PLAN


def test_circuits_spots_and_looks_come_and_go() -> None:
    """A list's entries are added and removed by one way."""
    keys = {"name": "kitchen ring", "volts": "230", "breaker_a": "16", "margin": "0,8"}
    added = add_entry(PLAN, ("circuit",), keys)
    assert added.said == "circuit kitchen ring added"
    assert tomllib.loads(added.text)["circuit"][1] == {
        "name": "kitchen ring",
        "volts": 230,
        "breaker_a": 16,
        "margin": 0.8,
    }
    assert remove_entry(added.text, ("circuit", "Kitchen ring")).text == PLAN
    with pytest.raises(DocumentErrors) as raised:
        remove_entry(PLAN, ("circuit", "bench sockets"))
    assert len(raised.value.problems) == 2
    swap = {"name": "dim bulb", "cct_k": "2700", "kind": "phosphor LED"}
    more = add_entry(PLAN, ("light", "bench lamp", "swap"), swap)
    assert tomllib.loads(more.text)["light"][5]["swap"][1]["cct_k"] == 2700


def test_a_kit_is_set_in_the_same_way() -> None:
    """By the kit's own model."""
    edited = set_value(THE_KIT, ("filter", "half CTB", "note"), "faded", sort=KIT)
    assert edited.said == "half CTB: note faded"
    with pytest.raises(DocumentErrors) as raised:
        set_value(THE_KIT, ("filter", "half CTB", "role"), "blue", sort=KIT)
    assert raised.value.problems[0].where == 'the kit, filter "half CTB".role'


@pytest.mark.parametrize(
    ("light", "thirds", "old", "new", "said"),
    [
        (
            "key Fresnel",
            1,
            "lux = 1400",
            "lux = 1764",
            "level 1400 lx -> 1764 lx, 1/3 stop brighter",
        ),
        ("key Fresnel", -3, "lux = 1400", "lux = 700", "level 1400 lx -> 700 lx, 1 stop darker"),
        ("garden", -1, "f_stop = 11", "f_stop = 10", "level f/11 -> f/10, 1/3 stop darker"),
        ("garden", 3, "f_stop = 11", "f_stop = 16", "level f/11 -> f/16, 1 stop brighter"),
    ],
)
def test_a_level_goes_up_and_down_by_thirds(
    light: str, thirds: int, old: str, new: str, said: str
) -> None:
    """Lux by the cube root of two, stops along the marks of an iris; and back again."""
    edited = step_level(PLAN, light, thirds)
    assert edited.text == PLAN.replace(old, new)
    assert edited.said == f"{light}: {said}"
    assert step_level(edited.text, light, -thirds).text == PLAN


def test_a_level_that_was_not_read_is_not_stepped() -> None:
    """Watts and files are no reading."""
    text = set_value(
        PLAN, ("light", "key Fresnel", "level"), {"watts": 650, "distance": "3 m"}
    ).text
    with pytest.raises(EvencastError) as raised:
        step_level(text, "key Fresnel", 1)
    assert raised.value.what == (
        "its level is taken from its watts or its file, so there is no reading to step"
    )


@pytest.mark.parametrize("start", [0, 1, -1.5, 0.33, 8.17, 2.67])
def test_three_thirds_are_a_stop(start: float) -> None:
    """Begun with thirds or with halves, no rounding adds up."""
    stops: float = start
    for _ in range(3):
        stops = stepped_stops(stops, 1)
    assert stops == pytest.approx(start + 1, abs=0.01)


@pytest.mark.parametrize(
    ("value", "shown"),
    [(1763.9, 1764), (8999.9, 9000), (0.5, 0.5), (123.456, 123.46), (1e6, 10**6)],
)
def test_a_reading_has_no_more_digits_than_it_needs(value: float, shown: float) -> None:
    """The fewest within a five-thousandth."""
    assert shortest(value) == shown
