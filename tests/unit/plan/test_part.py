from __future__ import annotations

import pytest
from pydantic import ValidationError

from evencast.plan.level import Level
from evencast.plan.light import Aperture
from evencast.plan.part import MM_PER_UNIT, as_number
from evencast.plan.plan import Balance, Plan


@pytest.mark.parametrize(
    ("unit", "in_mm"), [("mm", 2.0), ("cm", 20.0), ("m", 2000.0), ("in", 50.8), ("ft", 609.6)]
)
def test_a_length_in_any_unit_is_kept_in_millimetres(unit: str, in_mm: float) -> None:
    """The inch is 25.4 mm and the foot twelve of them (ISO 80000-3)."""
    opening = Aperture.model_validate({f"width_{unit}": 2, "height_mm": 1})
    assert opening.width_mm == pytest.approx(in_mm)
    assert opening.model_extra == {}


def test_every_unit_of_length_is_covered() -> None:
    """The units of the test above are all there are."""
    assert set(MM_PER_UNIT) == {"mm", "cm", "m", "in", "ft"}


def test_every_fault_of_a_part_is_found_at_once() -> None:
    """A broken one-of rule, a wrong type and a wrong length are reported together."""
    with pytest.raises(ValidationError) as raised:
        Level.model_validate({"lux": "much", "fc": -1, "distance_m": 0, "distance_ft": 1})
    places = [error["loc"] for error in raised.value.errors()]
    assert sorted(places) == [(), ("distance_m",), ("fc",), ("lux",)]


def test_a_choice_of_several_keys_needs_them_all() -> None:
    """A range of balances without its step names the step as missing."""
    with pytest.raises(ValidationError) as raised:
        Balance.model_validate({"low_k": 3200, "high_k": 5600})
    (error,) = raised.value.errors()
    assert (error["loc"], error["msg"]) == (("step_k",), '"step_k" is missing')


def test_unknown_keys_are_kept() -> None:
    """What the model does not know is carried along unread."""
    opening = Aperture.model_validate({"width_mm": 1, "height_mm": 2, "shape": "round"})
    assert opening.model_extra == {"shape": "round"}


def test_a_part_cannot_be_changed_in_place() -> None:
    """Assigning to a field is refused."""
    opening = Aperture(width_mm=1, height_mm=2)
    with pytest.raises(ValidationError, match="frozen"):
        opening.width_mm = 3


def test_a_part_made_in_python_is_held_to_the_same_rules() -> None:
    """The rules belong to the model, not to the reader of files."""
    with pytest.raises(ValidationError, match="has both"):
        Balance(fixed_k=4300, from_card_under="key")


@pytest.mark.parametrize("value", [True, "1", None, float("nan"), float("inf"), 10**400, [1]])
def test_only_finite_numbers_are_numbers(value: object) -> None:
    """Truth values, text, nan, infinity and what no float can hold are not."""
    assert as_number(value) is None


def test_known_keys_name_a_length_once_per_unit() -> None:
    """`width_mm` stands for five keys, of which one may be written."""
    keys = Aperture.known_keys()
    assert [key for key in keys if key.startswith("width")] == [
        "width_mm",
        "width_cm",
        "width_m",
        "width_in",
        "width_ft",
    ]
    assert "mains_hz" in Plan.known_keys()
