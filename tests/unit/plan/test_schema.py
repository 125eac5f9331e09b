from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from evencast.plan.schema import schemas

DOCUMENTS = Path(__file__).parents[2] / "documents"
SAMPLES = sorted((DOCUMENTS / "format-1").glob("*.toml"))
WRONG_BY_SCHEMA = ["plan-many-errors", "plan-one-of", "plan-balance", "plan-units"]
WRONG_BY_SCHEMA += ["plan-tolerance", "plan-single-brackets", "plan-newer-format", "plan-empty"]
WRONG_BY_SCHEMA += ["kit-declared-numbers", "plan-no-format", "plan-no-lights"]
WRONG_BY_SCHEMA += ["plan-levels", "plan-balance-list", "plan-records", "plan-half-read"]


def validator(path: Path) -> Draft202012Validator:
    return Draft202012Validator(schemas()["kit" if path.stem.startswith("kit") else "plan"])


def as_json(path: Path) -> Any:
    data = tomllib.loads(path.read_bytes().decode("utf-8-sig"))
    return json.loads(json.dumps(data, default=lambda value: value.isoformat()))


def tables(schema: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    yield schema["title"], schema
    yield from schema["$defs"].items()


def test_the_schemas_are_sound() -> None:
    """They are valid against the rules of draft 2020-12 and say so."""
    assert list(schemas()) == ["kit", "plan"]
    for schema in schemas().values():
        Draft202012Validator.check_schema(schema)
        assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_key_has_a_title_and_a_description() -> None:
    """The schemas are documentation, so no key may stand there unexplained."""
    for schema in schemas().values():
        for name, table in tables(schema):
            assert table["description"].endswith("."), name
            for key, field in table["properties"].items():
                assert field["title"], (name, key)
                assert field["description"].endswith("."), (name, key)


def test_the_schemas_come_out_the_same_every_time() -> None:
    """Their text is stable, key for key."""
    assert json.dumps(schemas()) == json.dumps(schemas())
    assert list(schemas()["plan"]["$defs"]) == sorted(schemas()["plan"]["$defs"])


def test_no_null_and_no_millimetres_in_place_of_a_unit() -> None:
    """TOML has no null, and a length may be written in any unit, one of them needed."""
    text = json.dumps(schemas())
    assert "null" not in text
    opening = schemas()["plan"]["$defs"]["Aperture"]
    assert list(opening["properties"])[:5] == [f"width_{u}" for u in ("mm", "cm", "m", "in", "ft")]
    assert opening["properties"]["width_ft"]["description"] == "Width of the opening, in feet."
    assert "required" not in opening


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_the_samples_are_valid(path: Path) -> None:
    """What the reader accepts, the schema accepts."""
    assert [error.message for error in validator(path).iter_errors(as_json(path))] == []


@pytest.mark.parametrize("stem", WRONG_BY_SCHEMA)
def test_documents_broken_in_themselves_are_invalid(stem: str) -> None:
    """Wrong types, values, choices and units are wrong by the schema too."""
    path = DOCUMENTS / "broken" / f"{stem}.toml"
    text = path.read_text("utf-8").replace("cct_k = inf", "cct_k = 1e9")
    data = json.loads(json.dumps(tomllib.loads(text), default=str))
    assert not validator(path).is_valid(data)


@pytest.mark.parametrize(
    ("table", "keys", "valid"),
    [
        ("Balance", {"fixed_k": 4300}, True),
        ("Balance", {"fixed_k": 4300, "duv": 0.001}, True),
        ("Balance", {"low_k": 3200, "high_k": 5600, "step_k": 100}, True),
        ("Balance", {"low_k": 3200, "high_k": 5600}, False),
        ("Balance", {"fixed_k": 4300, "step_k": 100}, False),
        ("Balance", {"from_card_under": "key", "duv": 0.001}, False),
        ("Balance", {}, False),
        ("Level", {"lux": 1, "distance_m": 1}, True),
        ("Level", {"lux": 1, "distance_m": 1, "distance_ft": 1}, False),
        ("Balance", {"at_k": [3200], "tint_steps": [-2, 0]}, True),
        ("Balance", {"at_k": []}, False),
        ("Balance", {"fixed_k": 4300, "tint_steps": [2]}, False),
        ("Level", {"f_stop": 4, "exposure_index": 400, "shutter_s": 0.02}, True),
        ("Level", {"lux": 4, "exposure_index": 400}, False),
        ("Level", {"cd": 4, "shutter_s": 0.02}, False),
        ("Level", {"photometry": "a/panel.IES"}, True),
        ("Level", {"photometry": "panel.ies.txt"}, False),
        ("Level", {"watts": 650, "cd": 9000}, False),
        ("SpotLight", {"name": "key", "stops": -1}, True),
        ("SpotLight", {"name": "key", "stops": -1, "lux": 3}, False),
        ("SpotLight", {"name": "key", "stops": -1, "shutter_s": 0.02}, False),
        ("SpotLight", {"name": "key"}, False),
        ("Read", {}, True),
        ("Read", {"duv": 0.001, "tint": "none"}, False),
        ("Read", {"fc": 3, "shutter_s": 0.02}, False),
        ("Circuit", {"name": "ring", "volts": 230, "breaker_a": 16}, True),
        ("Circuit", {"name": "ring", "volts": 230, "breaker_a": 16, "margin": 80}, False),
        ("Aperture", {"width_m": 1, "height_in": 1}, True),
        ("Aperture", {"width_m": 1}, False),
        ("Aperture", {"width_m": 1, "width_cm": 1, "height_in": 1}, False),
        ("Aim", {"like": "key", "stops": 1}, True),
        ("Aim", {"like": "key", "duv": 0}, False),
        ("Tolerance", {"mired": 3}, True),
        ("Tolerance", {"mired": [-3, 0]}, True),
        ("Tolerance", {"mired": [3, 5]}, False),
        ("Tolerances", {"kee": {}}, False),
    ],
)
def test_the_rules_between_keys_are_in_the_schema(
    table: str, keys: dict[str, Any], valid: bool
) -> None:
    """One of several keys, all of a group, one unit for a length."""
    schema = schemas()["plan"]
    one = {"$ref": f"#/$defs/{table}", "$defs": schema["$defs"]}
    assert Draft202012Validator(one).is_valid(keys) is valid
