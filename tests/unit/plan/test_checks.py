from __future__ import annotations

from typing import Any

from evencast.errors import Problem
from evencast.plan import checks
from evencast.plan.kit import Kit
from evencast.plan.plan import Plan


def plan(*lights: dict[str, Any], **keys: Any) -> Plan:
    plain = {"role": "key", "cct_k": 3200}
    needed = {
        "format": 1,
        "name": "job",
        "kit": "kit.toml",
        "mains_hz": 50,
        "camera": {"balance": keys.pop("balance", {"fixed_k": 4300})},
        "light": [
            (plain if "builtin" not in light else {"role": "key"}) | light
            for light in lights or ({"name": "key"},)
        ],
    }
    return Plan.model_validate(needed | keys)


def kit(*filters: dict[str, Any]) -> Kit:
    plain = {"role": "correction", "generic": "full CTB"}
    return Kit.model_validate(
        {"format": 1, "name": "van", "filter": [plain | each for each in filters]}
    )


def places(problems: list[Problem]) -> list[tuple[str, str]]:
    return [(each.severity, each.where) for each in problems]


def test_two_lights_of_one_name_are_told_once() -> None:
    """Capitals and doubled spaces make no difference; three of a name are one problem."""
    made = plan({"name": "Key light"}, {"name": "key  light"}, {"name": "KEY LIGHT"})
    assert places(checks.check_light_names(made)) == [("error", 'light "key light"')]
    assert checks.check_light_names(plan({"name": "a"}, {"name": "b"})) == []


def test_set_ups_speak_of_the_plans_lights_once_each() -> None:
    """A set-up of a known name, an unknown light and a light twice are three problems."""
    made = plan(
        setup=[
            {"name": "night", "light": [{"name": "KEY"}, {"name": "key"}, {"name": "moon"}]},
            {"name": "Night"},
        ]
    )
    assert places(checks.check_setup_names(made)) == [
        ("error", 'setup "Night"'),
        ("error", 'setup "night".light "key"'),
    ]
    assert places(checks.check_setup_lights(made)) == [("error", 'setup "night".light "moon".name')]
    sound = plan(setup=[{"name": "night", "light": [{"name": "KEY"}]}])
    assert checks.check_setup_names(sound) + checks.check_setup_lights(sound) == []


def test_the_card_stands_under_a_light_of_the_plan() -> None:
    """The balance may be taken under a known light, whatever its capitals."""
    assert checks.check_card_light(plan(balance={"from_card_under": "KEY"})) == []
    (problem,) = checks.check_card_light(plan(balance={"from_card_under": "kee"}))
    assert problem.where == "camera.balance.from_card_under"
    assert problem.remedy == 'Name one of its lights, such as "key".'


def test_ranges_run_upwards() -> None:
    """A range of balances or of a panel that runs down, or stands still, is an error."""
    down = {"low_k": 5600, "high_k": 3200}
    up = {"low_k": 3200, "high_k": 5600}
    assert places(checks.check_balance_range(plan(balance=down | {"step_k": 100}))) == [
        ("error", "camera.balance")
    ]
    assert checks.check_balance_range(plan(balance=up | {"step_k": 100})) == []
    made = plan(
        {"name": "down", "adjustable": down},
        {"name": "up", "adjustable": up},
        {"name": "still", "adjustable": {"low_k": 4000, "high_k": 4000}},
    )
    assert places(checks.check_adjustable(made)) == [
        ("error", 'light "down".adjustable'),
        ("error", 'light "still".adjustable'),
    ]


def test_like_names_a_light_of_the_plan() -> None:
    """Also in a set-up; the nearest names are offered."""
    made = plan(
        {"name": "key"},
        {"name": "fill", "aim": {"like": "Key"}},
        {"name": "edge", "aim": {"like": "fil"}},
        setup=[{"name": "night", "light": [{"name": "fill", "aim": {"like": "moon"}}]}],
    )
    found = checks.check_like(made)
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
    assert [each.message for each in checks.check_like_cycles(made)] == [
        'goes round in a circle: "a" like "b" like "a"',
        'goes round in a circle: "self" like "self"',
    ]


def test_a_light_to_dial_says_its_range() -> None:
    """Only a written "dial" without a range is a warning, the default moves are not."""
    made = plan(
        {"name": "default"},
        {"name": "written", "moves": ["dial"]},
        {"name": "range", "moves": ["dial"], "adjustable": {"low_k": 3000, "high_k": 5000}},
    )
    assert places(checks.check_dial(made)) == [("warning", 'light "written".moves')]


def test_built_in_names_are_known_whatever_their_capitals() -> None:
    """An unknown light or filter names the nearest known ones."""
    made = plan(
        {"name": "a", "builtin": "Tungsten  3200 K"}, {"name": "b", "builtin": "tungstn 3200 K"}
    )
    (problem,) = checks.check_builtin_lights(made, ["tungsten 3200 K", "daylight D65"])
    assert problem.where == 'light "b".builtin'
    assert problem.remedy == 'Did you mean "tungsten 3200 K"? `evencast lights` lists them.'
    bag = kit({"name": "a", "generic": "FULL CTB"}, {"name": "b", "generic": "ful CTB"})
    (problem,) = checks.check_generic_filters(bag, ["full CTB"])
    assert problem.where == 'filter "b".generic'
    assert problem.remedy == 'Did you mean "full CTB"? `evencast filters` lists them.'


def test_names_and_ids_of_a_kit_are_unique() -> None:
    """Two filters of one name, and two pieces of one id, are errors."""
    piece = {"form": "sheet", "width_mm": 1, "length_mm": 1}
    bag = kit(
        {"name": "a", "stock": [piece | {"id": "B1"}, piece, piece]},
        {"name": "b", "stock": [piece | {"id": "b1"}]},
        {"name": "A"},
    )
    assert places(checks.check_filter_names(bag)) == [("error", 'filter "A"')]
    assert places(checks.check_stock_ids(bag)) == [("error", 'filter "b".stock "b1"')]


def test_an_empty_kit_is_worth_a_word() -> None:
    """A kit without filters is a warning, a kit with one is none."""
    assert places(checks.check_empty_kit(kit())) == [("warning", "filter")]
    assert checks.check_empty_kit(kit({"name": "a"})) == []


def test_a_kit_of_diffusion_alone_cannot_correct() -> None:
    """Only told where a light may be filtered, and not again for an empty kit."""
    frost = kit({"name": "frost", "role": "diffusion"})
    made = plan({"name": "a"}, {"name": "b", "moves": ["leave"]}, {"name": "c"})
    (problem,) = checks.check_something_to_correct_with(made, frost)
    assert problem.message == (
        'nothing in the kit can correct "a", "c": no filter has the role correction, green or ND'
    )
    assert checks.check_something_to_correct_with(made, kit()) == []
    assert checks.check_something_to_correct_with(made, kit({"name": "blue"})) == []
    left = plan({"name": "b", "moves": ["leave"]})
    assert checks.check_something_to_correct_with(left, frost) == []


def test_the_documents_name_stands_before_every_place() -> None:
    """Problems of a plan, of a kit and of both name the file they stand in."""
    made = plan({"name": "a", "moves": ["dial", "filter"]})
    frost = kit({"name": "frost", "role": "diffusion"})
    assert places(checks.plan_problems(made, where="job.toml")) == [
        ("warning", 'job.toml, light "a".moves')
    ]
    assert places(checks.kit_problems(kit(), where="van.toml")) == [("warning", "van.toml, filter")]
    assert places(checks.problems_together(made, frost, where="van.toml")) == [
        ("warning", "van.toml, filter")
    ]
