from __future__ import annotations

from evencast.plan.checks import plan_problems, references
from tests.unit.plan.checks.made import night, places, plan


def test_the_card_stands_under_a_light_of_the_plan() -> None:
    """The balance may be taken under a known light, whatever its capitals."""
    assert references.check_card_light(plan(balance={"from_card_under": "KEY"})) == []
    (problem,) = references.check_card_light(plan(balance={"from_card_under": "kee"}))
    assert problem.where == "camera.balance.from_card_under"
    assert problem.remedy == 'Name one of its lights, such as "key".'


def test_like_names_a_light_of_the_plan() -> None:
    """Also in a set-up; the nearest names are offered."""
    made = plan(
        {"name": "key"},
        {"name": "fill", "aim": {"like": "Key"}},
        {"name": "edge", "aim": {"like": "fil"}},
        setup=[{"name": "night", "light": [{"name": "fill", "aim": {"like": "moon"}}]}],
    )
    found = references.check_like(made)
    assert places(found) == [
        ("error", 'light "edge".aim.like'),
        ("error", 'setup "night".light "fill".aim.like'),
    ]
    assert found[0].remedy == 'Name one of its lights, such as "fill".'
    assert found[1].remedy == 'Name one of its lights, such as "key", "fill", "edge".'


def test_a_circle_of_lights_is_told_once_and_what_leads_into_it_is_not() -> None:
    """Two lights like each other and one like itself are two circles; a chain is none."""
    made = plan(
        {"name": "into", "aim": {"like": "a"}},
        {"name": "a", "aim": {"like": "b"}},
        {"name": "b", "aim": {"like": "A"}},
        {"name": "self", "aim": {"like": "self"}},
        {"name": "chain", "aim": {"like": "end"}},
        {"name": "end"},
    )
    assert [each.message for each in references.check_like_cycles(made)] == [
        'goes round in a circle: "a" like "b" like "a"',
        'goes round in a circle: "self" like "self"',
    ]


def test_a_circle_that_a_set_up_closes_is_told_there() -> None:
    """Where the set-up says what a light is like; a circle of the plan is not told again."""
    made = plan(
        {"name": "a", "aim": {"like": "b"}},
        {"name": "b"},
        {"name": "c", "aim": {"like": "c"}},
        setup=[
            *night({"name": "a", "cct_k": 4000}, {"name": "b", "aim": {"like": "a"}}),
            {"name": "day", "light": [{"name": "a", "cct_k": 5600}]},
        ],
    )
    found = references.check_like_cycles(made)
    assert [(each.where, each.message) for each in found] == [
        ('light "c".aim.like', 'goes round in a circle: "c" like "c"'),
        ('setup "night".light "b".aim.like', 'goes round in a circle: "a" like "b" like "a"'),
    ]


def test_set_ups_speak_of_the_plans_lights() -> None:
    """Capitals make no difference, another name does."""
    made = plan(setup=night({"name": "KEY"}, {"name": "moon"}))
    assert places(references.check_setup_lights(made)) == [
        ("error", 'setup "night".light "moon".name')
    ]


def test_built_in_names_are_known_whatever_their_capitals() -> None:
    """Of lights and of what their lamps may be swapped for; the nearest known ones are offered."""
    bulbs = [{"name": "bulb", "builtin": "dylight D65"}, {"name": "read", "cct_k": 5000}]
    made = plan(
        {"name": "a", "builtin": "Tungsten  3200 K"},
        {"name": "b", "builtin": "tungstn 3200 K", "swap": bulbs},
    )
    known = ["tungsten 3200 K", "daylight D65"]
    first, second = references.check_builtin_lights(made, known)
    assert first.where == 'light "b".builtin'
    assert first.remedy == 'Did you mean "tungsten 3200 K"? `evencast lights` lists them.'
    assert second.where == 'light "b".swap "bulb".builtin'
    assert second.message == 'no built-in light is called "dylight D65"'


def test_a_spot_names_lights_of_the_plan() -> None:
    """The nearest is offered."""
    spot = {"name": "cheek", "role": "key", "light": [{"name": "kee", "lux": 1}]}
    (problem,) = references.check_spot_lights(plan(spot=[spot]))
    assert problem.severity == "error"
    assert problem.where == 'spot "cheek".light "kee".name'
    assert problem.message == 'no light of the plan is called "kee"'
    assert problem.remedy == 'Name one of its lights, such as "key".'
    spot["light"] = [{"name": "KEY", "lux": 1}]
    assert references.check_spot_lights(plan(spot=[spot])) == []


def test_a_light_is_plugged_into_a_circuit_of_the_plan() -> None:
    """Also in a set-up; where there is no circuit at all, the remedy shows one."""
    ring = {"name": "kitchen ring", "volts": 230, "breaker_a": 16}
    made = plan(
        {"name": "a", "circuit": "Kitchen Ring"},
        {"name": "b", "circuit": "kitchen rng"},
        circuit=[ring],
        setup=night({"name": "a", "circuit": "hall"}),
    )
    found = references.check_circuits(made)
    assert places(found) == [
        ("error", 'light "b".circuit'),
        ("error", 'setup "night".light "a".circuit'),
    ]
    assert found[0].message == 'no circuit of the plan is called "kitchen rng"'
    assert found[0].remedy == 'Name one of its circuits, such as "kitchen ring".'
    (problem,) = references.check_circuits(plan({"name": "a", "circuit": "hall"}))
    assert problem.remedy == (
        'Add it, as in [[circuit]] with name = "hall", volts = 230 and breaker_a = 16.'
    )


def test_a_look_is_the_plans_own_or_built_in() -> None:
    """Whatever its capitals; the nearest of both are offered."""
    made = plan(
        {"name": "a", "aim": {"look": "ALLEY moon"}},
        {"name": "b", "aim": {"look": "candle"}},
        {"name": "c", "aim": {"look": "aley moon"}},
        look=[{"name": "alley moon", "mired": -40}],
        setup=night({"name": "a", "aim": {"look": "dusk"}}),
    )
    found = references.check_looks(made, ["Candle", "blue hour"])
    assert places(found) == [
        ("error", 'light "c".aim.look'),
        ("error", 'setup "night".light "a".aim.look'),
    ]
    assert found[0].message == 'no look is called "aley moon", neither of the plan nor built in'
    assert found[0].remedy == (
        'Did you mean "alley moon"? `evencast looks` lists the built-in ones; your own is a '
        "[[look]] of the plan."
    )


def test_looks_are_left_unchecked_where_the_built_in_ones_are_not_given() -> None:
    """Nothing is said of a name that may be built in."""
    made = plan({"name": "a", "aim": {"look": "dusk"}})
    assert plan_problems(made, where="job.toml") == []
    (problem,) = plan_problems(made, where="job.toml", known_looks=["candle"])
    assert problem.where == 'job.toml, light "a".aim.look'


def test_a_window_is_not_like_the_view_seen_through_it() -> None:
    """The view's colour hangs on the window's own sheets; another light may be like it."""
    made = plan(
        {"name": "window", "role": "fill", "aim": {"like": "panel"}},
        {"name": "street", "role": "view", "behind": "window", "aim": {"like": "window"}},
        {"name": "panel", "role": "other", "aim": {"like": "Street"}},
    )
    (found,) = references.check_like_cycles(made)
    assert found.where == 'light "window".aim.like'
    assert found.message == (
        'goes round in a circle: "window" like "panel" like "street" behind "window"'
    )
    sound = plan(
        {"name": "window", "role": "fill"},
        {"name": "street", "role": "view", "behind": "window", "aim": {"like": "window"}},
        {"name": "panel", "role": "other", "aim": {"like": "street"}},
    )
    assert references.check_like_cycles(sound) == []


def test_only_a_view_is_behind_a_window_and_the_window_is_no_view() -> None:
    """Four ways to be wrong, each told once and in its own words."""
    made = plan(
        {"name": "window", "role": "fill", "builtin": "daylight D65"},
        {"name": "street", "role": "view", "behind": "WINDOW"},
        {"name": "key", "role": "key", "behind": "window"},
        {"name": "hedge", "role": "view", "behind": "hedge"},
        {"name": "sky", "role": "view", "behind": "street"},
        {"name": "wall", "role": "view", "behind": "windw"},
    )
    found = references.check_behind(made)
    assert [(each.where, each.message) for each in found] == [
        (
            'light "key".behind',
            "only a view is seen through a window, and its role is key",
        ),
        ('light "hedge".behind', "a view is not seen through itself"),
        ('light "sky".behind', '"street" is a view too, and not the light that comes in'),
        ('light "wall".behind', 'no light of the plan is called "windw"'),
    ]
    assert {each.severity for each in found} == {"error"}


def test_behind_is_judged_by_the_role_that_holds_in_the_set_up() -> None:
    """A view that a set-up makes the fill is no view there, and the plan itself is sound."""
    made = plan(
        {"name": "window", "role": "fill"},
        {"name": "street", "role": "view", "behind": "window"},
        setup=night({"name": "street", "role": "fill"}, {"name": "window", "cct_k": 9000}),
    )
    assert places(references.check_behind(made)) == [
        ("error", 'setup "night".light "street".behind')
    ]
