"""The page about the two documents: its documents are sound and its tables are complete."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import get_args

from builders.plan_keys import with_tables
from evencast.filters import generic_names
from evencast.lights import builtin_names
from evencast.plan.checks import problems_together
from evencast.plan.document import read_kit, read_plan
from evencast.plan.light import DEFAULT_MOVES, Move
from evencast.plan.plan import Plan
from evencast.plan.schema import schemas

PAGE = (Path(__file__).parents[1] / "docs" / "plan-format.md").read_text("utf-8")
NOTATION, KIT, PLAN, SCENE, SETUP = re.findall(
    r"^```toml\n(.*?)^```", PAGE, re.DOTALL | re.MULTILINE
)


def test_the_documents_of_the_page_have_no_problems() -> None:
    """The kit and the plans of the page can be copied, and the set-up added to the small plan."""
    assert tomllib.loads(NOTATION)
    kit, problems = read_kit(KIT, where="van-kit.toml", known_filters=generic_names())
    assert problems == []
    assert kit is not None
    for text in (PLAN, f"{PLAN}\n{SETUP}", SCENE):
        plan, problems = read_plan(
            text, where="plan.toml", known_lights=builtin_names(), known_looks=()
        )
        assert problems == []
        assert plan is not None
        assert plan.model.kit == "van-kit.toml"
        assert (
            problems_together(plan.model, kit.model, where="plan.toml", kit_where="van-kit.toml")
            == []
        )


def test_the_scene_shows_every_table_of_a_plan() -> None:
    """Each heading that a plan may have but weights and tolerances, and every move."""
    plan, _ = read_plan(SCENE, where="plan.toml")
    assert plan is not None
    written = plan.model.model_fields_set
    assert set(Plan.model_fields) - written == {"tolerance", "weights", "setup"}
    moves = {move for light in plan.model.light for move in light.moves}
    assert moves == set(get_args(Move))


def test_the_problem_shown_on_the_page_is_what_is_said() -> None:
    """The misspelt role of the page gives the lines of the page."""
    _, problems = read_plan(PLAN.replace('"view"', '"vew"'), where="kitchen.toml")
    (problem,) = problems
    shown = f"{problem.severity}: {problem.where}: {problem.message}\n    {problem.remedy}\n"
    assert f"```\n{shown}```" in PAGE


def test_the_tables_of_keys_are_fresh() -> None:
    """They are what `python -m builders.plan_keys` makes of the models."""
    assert with_tables(PAGE) == PAGE


def test_every_key_of_the_models_is_on_the_page() -> None:
    """Independent of the builder: each property of the schemas begins a row of a table."""
    first_cells = re.findall(r"^\| `([^`]+)`", PAGE, re.MULTILINE)
    on_page = {cell.rpartition(".")[2] for cell in first_cells}
    units = re.compile(r"_(cm|m|in|ft)$")
    for schema in schemas().values():
        for table in (schema, *schema["$defs"].values()):
            for key in table["properties"]:
                assert units.sub("_mm", key) in on_page, key


def test_the_moves_that_may_be_left_out_are_those_of_the_page() -> None:
    """The sentence about the default moves names the default moves."""
    assert f"Left out: {', '.join(DEFAULT_MOVES)}." in PAGE
