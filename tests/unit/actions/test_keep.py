"""What was planned, kept in a set-up of the plan."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from evencast.actions import keep as module
from evencast.actions.compare import compare
from evencast.actions.keep import keep
from evencast.actions.solve import solve
from evencast.actions.trim import trim
from evencast.colour import mired_duv, uv, white_uv
from evencast.errors import DocumentErrors, EvencastError
from evencast.lights import builtin
from evencast.results.plan import SolveAnswer
from tests.plans import write_kit

HEAD = """format = 1
name = "shed"
kit = "kit.toml"
mains_hz = 50

[camera]
balance = {balance}
t_stop = 4
"""
LIGHTS = """
[[light]]
name = "lamp"
role = "key"
builtin = "tungsten 3200 K"
moves = ["filter", "scrim", "leave"]
aim = { stops = 0 }
level = { f_stop = 8 }

[[light]]
name = "window"
role = "fill"
builtin = "daylight D65"
"""
PANEL = """
[[light]]
name = "panel"
role = "background"
builtin = "two-colour LED panel"
adjustable = { low_k = 2700, high_k = 6500 }
moves = ["dial", "dim"]
aim = { stops = 0 }
level = { f_stop = 8 }

[[light]]
name = "hall"
role = "other"
builtin = "daylight tube FL5"
moves = ["swap", "switch off"]
swap = [{ name = "a warmer tube", builtin = "LED phosphor 4100 K B3" }]

[[light]]
name = "sign"
role = "background"
builtin = "high-pressure sodium HP1"
moves = ["switch off"]
"""
NIGHT = """
[[setup]]
name = "night"   # towards the door

  [[setup.light]]
  name = "Lamp"
  rigged = { filters = ["quarter CTB"] }
  read = { cct_k = 4100, duv = 0.001 }
"""


def plan(
    folder: Path, more: str = "", *, balance: str = "{ fixed_k = 4300 }", lights: str = LIGHTS
) -> Path:
    """A small plan beside a kit of generic sheets."""
    write_kit(folder)
    path = folder / "plan.toml"
    path.write_text(HEAD.format(balance=balance) + lights + more, "utf-8")
    return path


def setups(path: Path) -> list[dict[str, Any]]:
    """The set-ups of a document, as any reader of TOML sees them."""
    found: list[dict[str, Any]] = tomllib.loads(path.read_text("utf-8"))["setup"]
    return found


def test_a_set_up_that_is_new_goes_to_the_end_with_all_that_was_planned(tmp_path: Path) -> None:
    """A half CTB with a scrim on the lamp, sheets and no more on the window."""
    path = plan(tmp_path)
    before = path.read_text("utf-8")
    answer = keep(path, setup="day, first half")
    planned = {each.name: each for each in answer.lights}
    assert (planned["lamp"].filters, planned["lamp"].scrims) == (["half CTB"], ["double"])
    assert planned["window"].filters
    (kept,) = setups(path)
    assert re.fullmatch("[0-9a-f]{16}", kept["planned_for"])
    added = f"""
[[setup]]
name = "day, first half"
balance_k = 4300
planned_for = "{kept["planned_for"]}"

  [[setup.light]]
  name = "lamp"
  planned = {{ filters = ["half CTB"], scrims = ["double"] }}

  [[setup.light]]
  name = "window"
  planned = {{ filters = {planned["window"].filters} }}
"""
    assert path.read_text("utf-8") == before + added.replace("'", '"')
    assert (answer.setup, answer.kept_in) == ("day, first half", str(path))
    assert answer.problems == solve(path).problems


def test_dial_dimmer_swap_and_switch_are_kept(tmp_path: Path) -> None:
    """Each only where it differs from nothing, under the key of its own."""
    path = plan(tmp_path, lights=LIGHTS + PANEL)
    answer = keep(path, setup="day")
    (kept,) = setups(path)
    by_name = {each["name"]: each["planned"] for each in kept["light"]}
    answered = {each.name: each for each in answer.lights}
    assert by_name["panel"] == {
        "dial_k": answered["panel"].dial_k,
        "dim_stops": answered["panel"].dim_stops,
    }
    assert answered["panel"].dim_stops > 0.5
    assert isinstance(by_name["panel"]["dial_k"], int)
    assert by_name["hall"] == {"swapped_for": "a warmer tube"}
    assert by_name["sign"] == {"off": True}
    assert [set(each) for each in kept["light"]] == [{"name", "planned"}] * 5


def test_a_set_up_that_is_there_keeps_all_else(tmp_path: Path) -> None:
    """Found whatever its capitals; rigged and read stay, an earlier planned gives way, keys of
    it that are not known stay with their remarks."""
    earlier = """
    [setup.light.planned]
    scrims = ["single"]
    filters = ["full CTB"]   # too blue
    residual_mired = 3_0.5   # by hand
"""
    path = plan(tmp_path, NIGHT + earlier)
    before = path.read_text("utf-8")
    answer = keep(path, setup="Night")
    lamp, window = answer.lights
    digest = setups(path)[0]["planned_for"]
    added = f'# towards the door\nbalance_k = 4300\nplanned_for = "{digest}"\n'
    after = before.replace("# towards the door\n", added)
    after = after.replace('    scrims = ["single"]\n', '    scrims = ["double"]\n')
    after = after.replace('["full CTB"]   #', f"{lamp.filters}   #")
    after += (
        f'\n  [[setup.light]]\n  name = "window"\n  planned = {{ filters = {window.filters} }}\n'
    )
    assert path.read_text("utf-8") == after.replace("'", '"')
    assert lamp.filters not in ([], ["full CTB"])
    assert answer.setup == "night"
    again = keep(path, setup="night")
    assert path.read_text("utf-8") == after.replace("'", '"')
    assert again.lights == answer.lights


def test_what_is_nothing_now_is_taken_away(tmp_path: Path) -> None:
    """A light that is left has an empty planned: it was planned that nothing hangs."""
    earlier = 'planned = { filters = ["full CTB"], dim_stops = 1, off = true }   # of May\n'
    left = LIGHTS.replace('moves = ["filter", "scrim", "leave"]', 'moves = ["leave"]')
    path = plan(tmp_path, NIGHT + earlier, lights=left)
    keep(path, setup="night")
    assert "planned = {}   # of May\n" in path.read_text("utf-8")
    assert setups(path)[0]["light"][0]["planned"] == {}


@pytest.mark.parametrize(
    ("balance", "kept"),
    [
        ("{ fixed_k = 4300 }", {"balance_k": 4300}),
        (
            "{ fixed_k = 4287.25, duv = 0.0012345 }",
            {"balance_k": 4287.25, "balance_duv": 0.0012345},
        ),
        ("{ at_k = [4300, 4305] }", {"balance_k": 4300}),
    ],
)
def test_the_balance_is_kept(tmp_path: Path, balance: str, kept: dict[str, float]) -> None:
    """The plan's own numbers where it is fixed, else the one that was chosen."""
    path = plan(tmp_path, balance=balance)
    keep(path, setup="day")
    found = {key: each for key, each in setups(path)[0].items() if key.startswith("balance")}
    if "at_k" in balance:
        assert found in ({"balance_k": 4300}, {"balance_k": 4305})
    else:
        assert found == kept


def test_a_card_is_kept_as_what_its_light_looks_like(tmp_path: Path) -> None:
    """Kelvin and Duv of the tube, worked out beside it."""
    path = plan(tmp_path, balance='{ from_card_under = "hall" }', lights=LIGHTS + PANEL)
    keep(path, setup="day")
    at_mired, duv = mired_duv(uv(builtin("daylight tube FL5").power))
    (kept,) = setups(path)
    assert kept["balance_k"] == pytest.approx(1e6 / float(at_mired), abs=0.06)
    assert kept["balance_duv"] == pytest.approx(float(duv), abs=5.1e-6)
    assert abs(kept["balance_duv"]) > 0.0005


def test_a_tint_is_kept_as_its_duv(tmp_path: Path) -> None:
    """Two steps that move the picture towards magenta make a greener light neutral."""
    balance = (
        '{ at_k = [4300], tint_steps = [2] }\ntint_step_duv = 0.001\ntint_direction = "magenta"'
    )
    path = plan(tmp_path, balance=balance)
    keep(path, setup="day")
    (kept,) = setups(path)
    white_duv = float(mired_duv(white_uv(4300.0))[1])
    assert kept["balance_k"] == 4300
    assert kept["balance_duv"] == pytest.approx(white_duv + 2 * 0.001, abs=5.1e-6)


def test_trim_and_compare_stand_at_the_balance_that_was_kept(tmp_path: Path) -> None:
    """With a range in the plan a trim needs no --balance any more, and a comparison tells what
    the set-ups differ by."""
    path = plan(tmp_path, balance="{ low_k = 3200, high_k = 5600, step_k = 100 }")
    answer = keep(path, setup="day")
    told = trim(path, "lamp", read="4000K+0.001")
    assert told.balance.cct_k == pytest.approx(answer.balance.cct_k, abs=0.06)
    assert told.hangs_by == "planned"
    assert told.hangs.filters == answer.lights[0].filters
    other = path.with_name("other.toml")
    kept_k = setups(path)[0]["balance_k"]
    other.write_text(
        path.read_text("utf-8").replace(f"balance_k = {kept_k}", "balance_k = 2900"), "utf-8"
    )
    (balance,) = compare(path, other).camera
    assert (balance.what, balance.old, balance.new) == ("balance", f"{kept_k} K", "2900 K")
    assert balance.mired == pytest.approx(1e6 / 2900 - 1e6 / kept_k, abs=0.001)


@pytest.mark.parametrize(
    ("moves", "said", "other_eye"),
    [
        ('moves = ["match the rest"]', "balance_k = 4100\nbalance_duv = -0.004", True),
        ('moves = ["match the rest"]', "balance_k = 4100", False),
        ("", "balance_k = 4100\nbalance_duv = -0.004", False),
    ],
)
def test_a_camera_is_not_held_against_a_card_that_was_computed_as_if_it_had_read_it(
    tmp_path: Path, moves: str, said: str, other_eye: bool
) -> None:
    """Where the balance may have been that of a card, the answer says that it was not read on
    this camera; a white, or a plan that matches nothing to a light, was dialled."""
    tube = f'[[light]]\nname = "tube"\nrole = "other"\nbuiltin = "cool white tube FL2"\n{moves}\n'
    path = plan(
        tmp_path,
        f'[[setup]]\nname = "day"\n{said}\n',
        balance="{ at_k = [3200, 5600] }",
        lights=LIGHTS + tube,
    )
    notes = " ".join(trim(path, "lamp", camera="4300K").notes)
    assert ("a colour that this camera did not read" in notes) is other_eye
    assert ("the balance of the same camera" in notes) is not other_eye
    dialled = " ".join(trim(path, "lamp", camera="4300K", balance="4100K").notes)
    assert "the balance of the same camera" in dialled


def test_a_set_up_is_solved_over_the_balances_of_the_plan(tmp_path: Path) -> None:
    """What it keeps is an answer, and no wish."""
    path = plan(
        tmp_path,
        NIGHT + "\n[[setup]]\nname = 'x'\nbalance_k = 2900\n",
        balance="{ at_k = [3200, 5600] }",
    )
    assert solve(path, setup="x").balance.cct_k in (
        pytest.approx(3200, abs=0.1),
        pytest.approx(5600, abs=0.1),
    )


@pytest.mark.parametrize("setup", [None, "", "  "])
def test_a_set_up_must_be_named(tmp_path: Path, setup: str | None) -> None:
    """The error says what to write, and nothing is written."""
    path = plan(tmp_path)
    before = path.read_bytes()
    with pytest.raises(EvencastError) as raised:
        keep(path, setup=setup)
    assert raised.value.where == "--keep"
    assert '--setup "afternoon" --keep' in raised.value.remedy
    assert path.read_bytes() == before


def test_without_keeping_nothing_is_written(tmp_path: Path) -> None:
    """Not even the time of the file changes."""
    path = plan(tmp_path, NIGHT)
    before = path.read_bytes(), path.stat().st_mtime_ns
    assert solve(path, setup="night").kept_in is None
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before


def test_a_document_that_was_changed_meanwhile_is_not_written_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the other has written stays."""
    path = plan(tmp_path)

    def slowly(*given: Any, **options: Any) -> SolveAnswer:
        answer = solve(*given, **options)
        path.write_text(path.read_text("utf-8") + "# mine\n", "utf-8")
        return answer

    monkeypatch.setattr(module, "solve", slowly)
    with pytest.raises(EvencastError, match="changed by something else"):
        keep(path, setup="day")
    assert path.read_text("utf-8").endswith("# mine\n")
    assert "setup" not in tomllib.loads(path.read_text("utf-8"))


def test_a_document_with_errors_is_told_and_left(tmp_path: Path) -> None:
    """Every error in one run, as `solve` does."""
    path = plan(tmp_path, NIGHT.replace('"Lamp"', '"lump"'))
    before = path.read_bytes()
    with pytest.raises(DocumentErrors):
        keep(path, setup="night")
    assert path.read_bytes() == before


def test_a_slip_in_the_name_is_told(tmp_path: Path) -> None:
    """It is added, and the one that may have been meant is named."""
    path = plan(tmp_path, NIGHT)
    (problem,) = keep(path, setup="nigth").problems[-1:]
    assert (problem.severity, problem.where) == ("warning", 'plan.toml, setup "nigth"')
    assert problem.remedy == 'If you meant "night", delete it and keep the plan there.'
    assert [each["name"] for each in setups(path)] == ["night", "nigth"]


def test_a_balance_without_a_colour_temperature_is_not_kept(tmp_path: Path) -> None:
    """A card under a saturated lamp: told, and an earlier balance is taken away."""
    lights = LIGHTS + '[[light]]\nname = "sign"\nrole = "other"\nspectrum = "sign.csv"\n'
    path = plan(
        tmp_path,
        NIGHT.replace("   # towards", "\nbalance_k = 4000\nbalance_duv = 0.002   # towards"),
        balance='{ from_card_under = "sign" }',
        lights=lights,
    )
    rows = [f"{nm},{int(520 <= nm <= 540)}" for nm in range(380, 785, 5)]
    (tmp_path / "sign.csv").write_text("\n".join(rows), "utf-8")
    problems = [each.message for each in keep(path, setup="night").problems]
    assert "the balance, card under sign, has no colour temperature and was not kept" in problems
    assert not {"balance_k", "balance_duv"} & set(setups(path)[0])
