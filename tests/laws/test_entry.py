"""Laws of the typed lines: any text is answered, and what asks for nothing is taken by a plan."""

from __future__ import annotations

from hypothesis import example, given, settings
from hypothesis import strategies as st

from evencast import tables
from evencast.actions.entry import answered, typed_light
from evencast.actions.entry.reading import typed_reading
from evencast.errors import EvencastError
from evencast.lights.catalogue import builtin_names_and_aliases
from evencast.plan.document import read_plan
from evencast.plan.edit import with_values
from evencast.plan.setup import Read
from evencast.results.editing import Entry

PLAN = tables.demo_documents()["plan.toml"]
TALK = """tungsten LED RGB HMI panel window tubes bulb sun sodium FL2 D65 fresnel key fill
background practical view 650 2700 5600 4000 5600K 2700-6500 5400K+0.0065 650W 1.2kW 2k 3m 10ft
10'6" 4x4 2x650 x4 1.1x1.5m 1200mm flood spot 240lux 75fc EV8 f/2.8 f/4 9000cd -2 +1/3 -1stop
20mired warm cool under over to key dimmable scrims leave like north behind circuit called "his"
panel.ies lamp.csv camera 4 toward magenta pf 0.9 1.6A 2 , ; : 0 1,5 1,400 % nonsense"""
READINGS = """5480 K 5480K 0.001 +0.001 duv f/4 EV8 800lux 75fc 16:20 2031-05-04T16:20 thin cloud
A014C003 ISO 400 1/50 camera 5200K 4 toward magenta , 12 9000cd"""
WORDS = st.sampled_from(TALK.split())
LINES = st.lists(WORDS, min_size=1, max_size=9).map(" ".join)


def answer(line: str) -> Entry | None:
    """The entry; None for an error that says what is wrong and what to do."""
    try:
        return typed_light(line, plan=PLAN)
    except EvencastError as error:
        said = error
    assert said.what
    assert said.remedy
    return None


def check_sound(line: str) -> None:
    entry = answer(line)
    if entry is None:
        return
    assert entry.name.strip()
    assert all(ask.question for ask in entry.asks)
    assert entry.asks or not entry.not_understood
    if not entry.asks:
        light = {"name": entry.name, **entry.keys}
        text = with_values(PLAN, [(("light", 8), light)], where="plan.toml")
        document, problems = read_plan(
            text, where="plan.toml", known_lights=builtin_names_and_aliases()
        )
        assert document is not None, problems
        assert document.model.light[-1].name == entry.name


@settings(max_examples=300, deadline=None)
@given(line=LINES)
@example(line="2x650 2x650")
@example(line="0 m 0 lux 0 W tungsten")
@example(line="tungsten 650 x0")
@example(line="tungsten x99999 99999999999999999999 W")
@example(line="LED 999K key")
@example(line="LED 5600K+0.9 key")
@example(line="tungsten 650 99 stops under key")
@example(line="window 1 x 0 m")
def test_set_talk_in_any_order_is_an_entry_or_an_error(line: str) -> None:
    """With nothing left to ask, the plan takes the light without an error."""
    check_sound(line)


@settings(max_examples=300, deadline=None)
@given(line=st.text(max_size=80))
@example(line="\ud800")
@example(line="٣ m tungsten ٦٥٠")
@example(line="tungsten ² m")
@example(line='"' * 40)
@example(line="tungsten\x00650")
def test_any_text_is_an_entry_or_an_error(line: str) -> None:
    """Never a traceback, whatever was pasted."""
    check_sound(line)


@settings(max_examples=100, deadline=None)
@given(line=LINES, data=st.data())
def test_an_answer_in_its_place_settles_its_ask(line: str, data: st.DataObject) -> None:
    """The words that an ask accepts, put where it says, are not asked about again."""
    entry = answer(line)
    asks = [each for each in entry.asks if each.accepted and each.instead_of] if entry else []
    if not asks:
        return
    ask = data.draw(st.sampled_from(asks))
    again = answer(answered(line, ask, ask.accepted[0]))
    if again is None:
        return  # the answer contradicts what stands elsewhere in the line
    assert ask not in again.asks or line.count(ask.instead_of) > 1


@settings(max_examples=200, deadline=None)
@given(
    line=st.one_of(
        st.text(max_size=60),
        st.lists(st.sampled_from(READINGS.split()), max_size=8).map(" ".join),
    )
)
def test_any_text_is_a_reading_or_an_error(line: str) -> None:
    """And a reading holds a colour or a level, its time, and only keys of a reading."""
    try:
        read = typed_reading(line, now="2031-05-04T16:31+02:00")
    except EvencastError as error:
        said = error.remedy
    else:
        said = "Read"
        assert {"cct_k", "lux", "fc", "ev", "f_stop"} & read.keys.keys()
        assert read.keys["time"]
        assert set(read.keys) <= set(Read.model_fields)
    assert said
