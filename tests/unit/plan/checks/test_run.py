from __future__ import annotations

import inspect

from evencast.plan import checks
from evencast.plan.checks import camera, kits, levels, moves, names, references, run, together
from tests.unit.plan.checks.made import kit, places, plan


def test_the_documents_name_stands_before_every_place() -> None:
    """Problems of a plan, of a kit and of both name the file they stand in."""
    made = plan({"name": "a", "moves": ["dial", "filter"], "frost": ["silk"]})
    frost = kit({"name": "frost", "role": "diffusion"})
    assert places(checks.plan_problems(made, where="job.toml")) == [
        ("warning", 'job.toml, light "a".moves')
    ]
    assert places(checks.kit_problems(kit(), where="van.toml")) == [("warning", "van.toml, filter")]
    assert places(
        checks.problems_together(made, frost, where="job.toml", kit_where="van.toml")
    ) == [("error", 'job.toml, light "a".frost'), ("warning", "van.toml, filter")]


def test_no_rule_is_forgotten() -> None:
    """Every function named like a rule is run."""
    written = inspect.getsource(run)
    for module in (camera, kits, levels, moves, names, references, together):
        rules = [name for name in vars(module) if name.startswith("check_")]
        assert rules
        for rule in rules:
            short = module.__name__.rpartition(".")[2]
            assert f"{short}.{rule}" in written, rule
