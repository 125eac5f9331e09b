from __future__ import annotations

import os
import subprocess
import sys

from evencast.plan.document import read_kit, read_plan

PLAN = """format = 1
name = "kitchen"
kit = "kit.toml"
mains_hz = 50
[camera]
balance = { fixed_k = 4300 }
[[light]]
name = "key"
role = "key"
builtin = "tungsten 3200 K"
"""


def test_a_warning_does_not_keep_a_document_from_being_used() -> None:
    """A plan with a slip comes back with its model and the warning."""
    document, problems = read_plan(PLAN + "kindd = 1\n", where="job.toml")
    assert [each.severity for each in problems] == ["warning"]
    assert document is not None
    assert document.where == "job.toml"
    assert document.model.light[0].model_extra == {"kindd": 1}


def test_built_in_names_are_only_checked_where_they_are_given() -> None:
    """Without the catalogue nothing is said of its names."""
    assert read_plan(PLAN, where="job.toml")[1] == []
    document, problems = read_plan(PLAN, where="job.toml", known_lights=["daylight D65"])
    assert document is None
    assert [each.where for each in problems] == ['job.toml, light "key".builtin']


def test_a_document_is_changed_by_reading_its_new_text() -> None:
    """Setting a value gives text; the document itself stays as it was read."""
    document, _ = read_plan(PLAN, where="job.toml")
    assert document is not None
    changed = document.with_values([(("camera", "balance", "fixed_k"), 5600)])
    assert document.text() == PLAN
    again, problems = read_plan(changed, where="job.toml")
    assert problems == []
    assert again is not None
    assert again.model.camera.balance.fixed_k == 5600


def test_cross_checks_run_in_a_document_with_errors() -> None:
    """A light whose role is wrong can still be named by another, and named wrongly."""
    text = PLAN.replace('"key"\nbuiltin', '"kee"\nbuiltin')
    text += '[[light]]\nname = "a"\nrole = "fill"\ncct_k = 3200\naim = { like = "KEY" }\n'
    text += '[[light]]\nname = "b"\nrole = "fill"\ncct_k = 3200\naim = { like = "moon" }\n'
    _, problems = read_plan(text, where="job.toml")
    assert [each.where for each in problems] == [
        'job.toml, light "key".role',
        'job.toml, light "b".aim.like',
    ]


def test_a_format_that_is_missing_or_odd_is_told_and_a_newer_one_ends_the_reading() -> None:
    """What a newer version wrote is not judged by this one."""
    for line, messages in (
        ("", ['"format" is missing', '"name" is missing']),
        ("format = true", ['"format" is not the number of a format']),
        ("format = 0", ['"format" is not the number of a format']),
        ("format = 1.0", ['"format" is not the number of a format']),
        (
            "format = 7",
            [
                "format 7 was written by a newer version of evencast; this one reads format 1",
            ],
        ),
    ):
        document, problems = read_kit(f"{line}\nfilter = []\n", where="kit.toml")
        assert document is None
        assert [each.message for each in problems if each.severity == "error"] == messages


def test_reading_does_not_load_the_rewriting_library() -> None:
    """tomlkit is loaded when a value is changed, not before."""
    code = "import sys, evencast.plan.document; sys.exit('tomlkit' in sys.modules)"
    found = os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)}
    assert subprocess.run([sys.executable, "-c", code], check=False, env=found).returncode == 0
