"""Laws of bringing two versions together: nothing is lost, nothing is decided in silence."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencast import tables
from evencast.actions.editing.document import KIT
from evencast.actions.editing.kits import add_filter, count_stock
from evencast.actions.editing.lights import duplicate_light, remove_light, rename_light
from evencast.actions.editing.setups import add_setup, note_read
from evencast.actions.editing.values import set_value
from evencast.actions.merging import merge, settle
from evencast.errors import DocumentErrors, EvencastError

DEMO = tables.demo_documents()["plan.toml"]
BASE = note_read(add_setup(DEMO, "dusk").text, "dusk", "garden", "5480 f/11").text
LIGHTS = [each["name"] for each in tomllib.loads(BASE)["light"]]

Edit = Callable[[str], str]


def value(*path: str, to: object) -> Edit:
    return lambda text: set_value(text, path, to).text


EDITS: dict[str, Edit] = {
    "key lux": value("light", "key Fresnel", "level", "lux", to=1600),
    "key lux otherwise": value("light", "key Fresnel", "level", "lux", to=900),
    "key size": value("light", "key Fresnel", "size", to="20 cm"),
    "garden stop": value("light", "garden", "level", "f_stop", to=8),
    "balance": value("camera", "balance", to={"fixed_k": 4300}),
    "balance otherwise": value("camera", "balance", to={"fixed_k": 5600}),
    "index": value("camera", "exposure_index", to=400),
    "layers": value("limits", "layers", to=2),
    "loss": value("limits", "loss_stops", to=2),
    "weights": value("weights", "stops", to=2),
    "weights of minutes": value("weights", "minutes", to=0.2),
    "tolerance": value("tolerance", "key", "mired", to="4"),
    "spot": value("spot", "back wall", "light", "yard lamp", "lux", to="2"),
    "circuit": value("circuit", "bench sockets", "breaker_a", to="10"),
    "duplicate": lambda text: duplicate_light(text, "edge panel").text,
    "duplicate another": lambda text: duplicate_light(text, "yard lamp").text,
    "rename": lambda text: rename_light(text, "stair tubes", "door tubes").text,
    "remove": lambda text: remove_light(text, "yard lamp", also=True).text,
    "remove the key": lambda text: remove_light(text, "key Fresnel", also=True).text,
    "read the key": lambda text: note_read(text, "dusk", "key Fresnel", "3200 f/4").text,
    "read the garden": lambda text: note_read(text, "dusk", "garden", "6000 f/8").text,
    "read the tubes": lambda text: note_read(text, "dusk", "ceiling tubes", "4200 0.008").text,
    "night": lambda text: add_setup(text, "night").text,
    "the same night": lambda text: add_setup(text, "night").text,
    "remark": lambda text: text.replace("[limits]", "# as ever\n[limits]"),
    "layout": lambda text: text.replace("volts = 230", "volts   =   230  # read off the board"),
}
NAMES = st.lists(st.sampled_from(sorted(EDITS)), max_size=3, unique=True)


def edited(text: str, names: list[str]) -> str:
    """The text after those edits that can be made one after the other."""
    for name in names:
        try:
            text = EDITS[name](text)
        except EvencastError:
            continue
    return text


def leaves(value: Any, path: tuple[str, ...] = ()) -> dict[tuple[str, ...], Any]:
    """Every value of a document by its keys; entries with a name by that, others by number."""
    if isinstance(value, dict) and value:
        return {
            at: each
            for key, inside in value.items()
            for at, each in leaves(inside, (*path, key)).items()
        }
    if isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
        named = [str(each.get("name", number)).casefold() for number, each in enumerate(value)]
        return {
            at: each
            for name, inside in zip(named, value, strict=True)
            for at, each in leaves(inside, (*path, name)).items()
        }
    return {path: value}


def differences(before: str, after: str) -> dict[tuple[str, ...], Any]:
    """What was set and what was taken away (None), by independent arithmetic."""
    old, new = leaves(tomllib.loads(before)), leaves(tomllib.loads(after))
    return {at: new.get(at) for at in old.keys() | new.keys() if old.get(at) != new.get(at)}


@settings(max_examples=60, deadline=None)
@given(first=NAMES, second=NAMES)
def test_without_a_clash_every_change_of_both_is_there(first: list[str], second: list[str]) -> None:
    """And nothing but those; the other way round it says the same."""
    mine, theirs = edited(BASE, first), edited(BASE, second)
    merged, turned = merge(BASE, mine, theirs), merge(BASE, theirs, mine)
    assert bool(merged.clashes) == bool(turned.clashes)
    if merged.clashes:
        return
    assert differences(BASE, merged.text) == differences(BASE, mine) | differences(BASE, theirs)
    assert leaves(tomllib.loads(merged.text)) == leaves(tomllib.loads(turned.text))


@settings(max_examples=60, deadline=None)
@given(first=NAMES, second=NAMES)
def test_with_a_clash_theirs_stands_and_mine_is_told(first: list[str], second: list[str]) -> None:
    """No value of theirs is overwritten by a clash, and each clash has both in words."""
    mine, theirs = edited(BASE, first), edited(BASE, second)
    merged = merge(BASE, mine, theirs)
    for clash in merged.clashes:
        assert clash.mine_said
        assert clash.theirs_said
        assert clash.mine != clash.theirs or not clash.path
    theirs_there = differences(BASE, theirs)
    there = leaves(tomllib.loads(merged.text))
    assert all(there.get(at) == each for at, each in theirs_there.items())
    if any(not each.path for each in merged.clashes):
        assert merged.text == theirs


@settings(max_examples=40, deadline=None)
@given(names=NAMES)
def test_one_change_alone_is_that_change(names: list[str]) -> None:
    """To the byte, from either side, and so are two that are alike."""
    text = edited(BASE, names)
    for mine, theirs in ((text, BASE), (BASE, text), (text, text)):
        merged = merge(BASE, mine, theirs)
        assert (merged.text, merged.clashes, merged.notes) == (text, [], [])


@settings(max_examples=60, deadline=None)
@given(first=NAMES, second=NAMES)
def test_their_lines_stay_but_for_those_that_i_changed(first: list[str], second: list[str]) -> None:
    """Remarks and layout: each line of theirs is there that is the base's own no more."""
    mine, theirs = edited(BASE, first), edited(BASE, second)
    merged = merge(BASE, mine, theirs)
    theirs_own = set(theirs.splitlines()) - set(BASE.splitlines())
    remarks = [line for line in theirs_own if "#" in line]
    assert [line for line in remarks if line not in merged.text.splitlines()] == []


@pytest.mark.parametrize(
    ("first", "second", "places"),
    [
        ("key lux", "key lux otherwise", [("light", "key Fresnel")]),
        ("key lux", "key size", [("light", "key Fresnel")]),
        ("key lux", "remove the key", [("light", "key Fresnel")]),
        ("remove the key", "key lux", [("light", "key Fresnel")]),
        ("balance", "balance otherwise", [("camera", "balance")]),
        ("read the garden", "garden stop", []),
        ("layers", "loss", []),
        ("weights", "weights of minutes", []),
        ("night", "the same night", []),
        ("duplicate", "duplicate another", []),
        ("read the key", "read the tubes", []),
        ("remark", "layout", []),
        ("rename", "key lux", []),
        ("remove", "spot", [("spot", "back wall", "light", "yard lamp"), ()]),
    ],
)
def test_which_changes_clash(first: str, second: str, places: list[tuple[str, ...]]) -> None:
    """The same light, the balance, a removal against a change; and nothing that lies apart. The
    place () is both versions as a whole."""
    merged = merge(BASE, EDITS[first](BASE), EDITS[second](BASE))
    assert [each.path for each in merged.clashes] == places


def test_a_clash_is_settled_by_my_version() -> None:
    """Of the whole light as I had it; the rest of the merged text stays."""
    mine = EDITS["layers"](EDITS["key lux"](BASE))
    merged = merge(BASE, mine, EDITS["key size"](BASE))
    (clash,) = merged.clashes
    assert clash.mine_said == (
        'light "key Fresnel": level 1400 lx, distance 3 m, focus flood -> 1600 lx, distance 3 m, '
        "focus flood"
    )
    assert clash.theirs_said == 'light "key Fresnel": size 150 mm -> 20 cm'
    assert leaves(tomllib.loads(settle(merged.text, clash))) == leaves(tomllib.loads(mine))
    removal = merge(BASE, EDITS["remove the key"](BASE), EDITS["key size"](BASE))
    gone = settle(removal.text, removal.clashes[0])
    assert "key Fresnel" not in [each["name"] for each in tomllib.loads(gone)["light"]]


def test_versions_that_do_not_fit_together_are_told_as_a_whole() -> None:
    """One removes a light that the other names for the first time: theirs stands."""
    mine = EDITS["remove"](BASE)
    theirs = set_value(BASE, ("spot", "his face, key side", "light", "yard lamp", "lux"), "1").text
    merged = merge(BASE, mine, theirs)
    assert merged.text == theirs
    (clash,) = merged.clashes
    assert clash.path == ()
    assert clash.where == (
        'the plan, spot "his face, key side".light "yard lamp".name: no light of the plan is '
        'called "yard lamp"'
    )
    assert 'light "yard lamp" removed' in clash.mine_said
    with pytest.raises(EvencastError):
        settle(merged.text, clash)


def test_two_lights_of_one_name_clash() -> None:
    """Where they are different; capitals make no difference."""
    light = '\n[[light]]\nname = "lamp"\nrole = "fill"\nbuiltin = "{}"\n'
    mine = BASE + light.format("daylight D65")
    theirs = BASE + light.format("daylight D50").replace("lamp", "LAMP")
    merged = merge(BASE, mine, theirs)
    assert [each.where for each in merged.clashes] == ['light "lamp"']
    assert merged.text == theirs
    assert merge(BASE, mine, mine.replace("D65", "D65")).clashes == []


def test_remarks_written_by_hand_come_along_or_their_loss_is_told() -> None:
    """By lines where the changes lie apart; else a note says so."""
    mine = BASE.replace("t_stop = 4", "t_stop = 4   # wide open")
    apart = merge(BASE, mine, EDITS["key lux"](BASE))
    assert "# wide open" in apart.text
    assert apart.notes == []
    beside = merge(
        BASE, mine, BASE.replace("shutter_deg = 180\nt_stop", "shutter_deg = 172.8\nt_stop")
    )
    assert beside.clashes == []
    assert "172.8" in beside.text
    assert ("# wide open" in beside.text) != bool(beside.notes)


def test_an_order_is_kept_or_its_loss_is_told() -> None:
    """The order of lights says which key comes first."""
    blocks = BASE.split("[[light]]")
    turned = "[[light]]".join([blocks[0], blocks[2], blocks[1], *blocks[3:]])
    kept = merge(BASE, turned, EDITS["layers"](BASE))
    assert [each["name"] for each in tomllib.loads(kept.text)["light"]][:2] == LIGHTS[1::-1]
    assert kept.notes == []
    lost = merge(BASE, turned, EDITS["key lux"](BASE))
    order = [each["name"] for each in tomllib.loads(lost.text)["light"]]
    told = lost.notes == ["The order in which you put each light was not carried over."]
    assert told != (order[:2] == LIGHTS[1::-1])


def test_a_kit_is_merged_by_its_filters() -> None:
    """Two filters added, one counted; the same one counted twice clashes."""
    kit = tables.demo_documents()["kit.toml"]
    one = add_filter(kit, {"name": "one", "role": "ND", "generic": "ND 0.3"}).text
    two = add_filter(kit, {"name": "two", "role": "ND", "generic": "ND 0.6"}).text
    names = [each["name"] for each in tomllib.loads(merge(kit, one, two, sort=KIT).text)["filter"]]
    assert sorted(names[-2:]) == ["one", "two"]
    stocked = next(each["name"] for each in tomllib.loads(kit)["filter"] if each.get("stock"))
    more, fewer = (count_stock(kit, stocked, step).text for step in (1, -1))
    assert [each.path for each in merge(kit, more, fewer, sort=KIT).clashes] == [
        ("filter", stocked)
    ]


def test_digits_of_a_declared_number_are_a_change() -> None:
    """0.50 is another rounding than 0.5."""
    kit = tables.demo_documents()["kit.toml"]
    kelvin = "kelvin = {{ from_k = 3200, to_k = 3200, stops = {} }}"
    declared = f'\n[[filter]]\nname = "a"\nrole = "ND"\n{kelvin}\n'
    base = kit + declared.format("0.5")
    mine = kit + declared.format("0.50")
    theirs = base + "\n# the end\n" + declared.format("1.0").replace('"a"', '"b"')
    assert "stops = 0.50 }" in merge(base, mine, theirs, sort=KIT).text


def test_a_version_that_cannot_be_read_is_refused() -> None:
    """With its line."""
    with pytest.raises(DocumentErrors) as raised:
        merge(BASE, BASE + "\n= 1\n", EDITS["layers"](BASE))
    assert raised.value.problems[0].where.startswith("the plan, line ")


def test_the_base_is_what_the_edits_begin_with() -> None:
    """Each edit changes something, or the laws above would hold of nothing."""
    assert all(edit(BASE) != BASE for edit in EDITS.values())
    assert len(LIGHTS) == 8
