from __future__ import annotations

import pytest

from evencast import tables
from evencast.actions.entry import answered, typed_light
from evencast.errors import EvencastError
from evencast.results.editing import Ask, Entry

PLAN = tables.demo_documents()["plan.toml"]


def questions(entry: Entry) -> list[str]:
    return [each.question for each in entry.asks]


@pytest.mark.parametrize(
    ("line", "ask"),
    [
        ("650", Ask('"650": of what?', ["650 W", "650 lux"], "650")),
        ("fresnel 650 key", Ask('"650": of what?', ["650 W", "650 lux"], "650")),
        ("LED 5600K 1200 key", Ask('"1200": of what?', ["1200 W", "1200 lux"], "1200")),
        ("hmi 4000 key", Ask('"4000": of what?', ["4000 W", "4000K", "4000 lux"], "4000")),
        ("led 3.2k key", Ask('"3.2k": watts or Kelvin?', ["3200 W", "3200K"], "3.2k")),
        ("panel 4x4 key", Ask('"4x4": of what?', ["4 x 4 ft", "4 x 4 m"], "4x4")),
        ("tungsten 650 -2", Ask('"-2": of what?', ["-2 stops", "-2 mired"], "-2")),
        (
            "tungsten 650 1 stop",
            Ask(
                '"1 stop": under or over the key?',
                ["1 stop under key", "1 stop over key"],
                "1 stop",
            ),
        ),
        (
            "tungsten 650 30 mired",
            Ask('"30 mired": to which side?', ["30 mired warm", "30 mired cool"], "30 mired"),
        ),
        (
            "LED 5600K key T2.8",
            Ask('"T2.8": a T-stop is a lens\'s; is it what your meter reads?', ["f/2.8"], "T2.8"),
        ),
        (
            "tubes FL2 1.2 m",
            Ask(
                "1.2 m: how long the tube is, or how far away?", ["1.2 m long", "at 1.2 m"], "1.2 m"
            ),
        ),
        (
            "panel 5600K 300 mm",
            Ask("300 mm: how wide it is, or how far away?", ["300 mm wide", "at 300 mm"], "300 mm"),
        ),
        (
            "tungstn 650 3 m",
            Ask('"tungstn" is not understood: is it this?', ["tungsten"], "tungstn"),
        ),
        ("tungsten 650 3 m flod", Ask('"flod" is not understood: is it this?', ["flood"], "flod")),
        (
            "HMI 1.8 kW 5600K key through window",
            Ask("A window is daylight, and HMI is not: leave one out", [], "window"),
        ),
        (
            "tungsten 650 behind north window",
            Ask("Only a view is seen through a window: is it one?", ["view"]),
        ),
        (
            "daylight LED panel key",
            Ask("Which Kelvin has its daylight?", ["5600K", "6500K"]),
        ),
        (
            "LED 5600K 300 lux ISO 400 key",
            Ask("Index and shutter go with the stop of a meter", ["f/4"]),
        ),
        ("LED key", Ask("Which colour has it (phosphor LED)?", ["5600K", "3200K"])),
        ("key 3 m", Ask("What is it?", ["tungsten", "panel", "daylight", "LED 5600K"])),
        (
            "LED 5600K like edge pannel",
            Ask(
                '"like edge pannel": no light is called "edge pannel"',
                ["like edge panel"],
                "like edge pannel",
            ),
        ),
        (
            "window fill dimmable",
            Ask("Daylight cannot be dimmed: leave it out; ND takes light away"),
        ),
        (
            "garden view D65 300 lux",
            Ask("A view is read as the camera sees it, with a spot meter", ["f/11", "EV 12"]),
        ),
        ("LED 5600K 9000 cd key", Ask("How far away does it stand?", ["at 3 m", "at 10 ft"])),
        ("window 3 panes fill", Ask("How large is a pane?", ["1 x 1.5 m", "40 x 60 in"])),
        ("tungsten D65 key", Ask("daylight D65 is daylight, not tungsten: leave one of them out")),
    ],
)
def test_what_may_mean_two_things_is_asked(line: str, ask: Ask) -> None:
    """The question names the words it is about, and words that would answer it."""
    assert ask in typed_light(line, plan=PLAN).asks


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("fresnel 650 key 3 m", ["tungsten"]),
        ("650", ["650 W", "tungsten"]),
        ("tubes FL2 1.2 m background", ["1.2 m long"]),
        ("panel 4x4 5600K key", ["4 x 4 ft"]),
        ("LED key", ["5600K"]),
        ("tungsten 650 3 m flod", ["flood"]),
        ("tungsten 650 3 m nonsense", [""]),
        ("tungsten 650 fill 1 stop", ["1 stop under key"]),
        ("2x650 fill", ["2 x 650 W", "tungsten"]),
        ("tungsten 650 3 m like 1,5 tungsten", ["like key Fresnel"]),
    ],
)
def test_asks_are_answered_by_what_they_accept(line: str, words: list[str]) -> None:
    """Each answer in its place, or behind the line, and the light can be added."""
    for word in words:
        entry = typed_light(line, plan=PLAN)
        ask = next(each for each in entry.asks if not word or word in each.accepted)
        line = answered(line, ask, word)
    assert typed_light(line, plan=PLAN).asks == []


@pytest.mark.parametrize(
    ("line", "what", "remedy"),
    [
        (
            " ",
            "nothing is written",
            'Write what it is and how it stands, as in "tungsten 650, 3 m, flood".',
        ),
        (
            "tungsten 1,400 lx",
            'the comma in "1,400" may mean two things',
            'Write "1.400" or "1400".',
        ),
        (
            "tungsten 650,3 m",
            'the comma in "650,3" may mean two things',
            'Write "650.3" or "650, 3".',
        ),
        (
            "tungsten 650 3 m, at 2 m from 4 m",
            'it says two things about the distance: "at 2 m" and "from 4 m"',
            "Leave one of them out.",
        ),
        (
            "tungsten flood spot",
            'it says two things about the focus: "flood" and "spot"',
            "Leave one of them out.",
        ),
        (
            "LED 5600K 3200K",
            'it says two things about the colour: "5600K" and "3200K"',
            "Leave one of them out.",
        ),
        (
            "tungsten 80 lux f/4",
            'it says two things about the level: "80 lux" and "f/4"',
            "Leave one of them out.",
        ),
        (
            f"tungsten {'9' * 400} W",
            "400 digits are too many for one number",
            "Write a number such as 650 or 0.0065.",
        ),
        (
            "x" * 501,
            "501 letters are too many for one light",
            'Write at most 500, as in "north window 3 panes 1.1 x 1.5 m fill 240 lux".',
        ),
    ],
)
def test_what_contradicts_itself_is_refused(line: str, what: str, remedy: str) -> None:
    """In words, with what would have been accepted."""
    with pytest.raises(EvencastError) as raised:
        typed_light(line, plan=PLAN)
    assert (raised.value.what, raised.value.where) == (what, "the line")
    assert raised.value.remedy == remedy


@pytest.mark.parametrize("line", ["LED 5600K, 2,5 m, fill", "LED 5600K 2.5 m fill"])
def test_a_decimal_comma_is_one_where_it_can_be_nothing_else(line: str) -> None:
    """As long as it has one or two digits behind it and few before."""
    assert typed_light(line).keys["distance_m"] == 2.5


def test_what_is_assumed_is_told() -> None:
    """The role, the colour of a window, the sleeve of a tube, the spread of watts."""
    first = typed_light("tungsten 650, 3 m, flood")
    assert first.keys["role"] == "key"
    assert first.assumed == [
        "its role is taken as key, since the plan has no key yet",
        "how bright it is is taken from its watts, a wide range; a reading tells it better",
    ]
    second = typed_light("window", plan=PLAN)
    assert second.keys == {"role": "other", "builtin": "daylight 5600 K"}
    assert second.assumed == [
        "its colour is taken as that of daylight 5600 K; read it for more",
        "its role is taken as other, since none is said",
    ]
    assert typed_light("hmi 1200 5600K 5 m spot key").assumed == [
        "spot goes with a level and is left out until one is read"
    ]
    assert typed_light("2 x 650 tungsten key 800 lux").assumed == [
        "that level is taken as of one of the 2 alone"
    ]


def test_what_was_understood_is_told_in_the_order_of_the_line() -> None:
    """Every word of it, with what it was taken as."""
    entry = typed_light(
        "edge panel 2700-6500, fill, f/2.8 at 2 m -1/3 stop like north window", plan=PLAN
    )
    assert [(each.words, each.taken_as) for each in entry.understood] == [
        ("edge", 'of its name, "edge panel"'),
        ("panel", "a panel"),
        ("2700-6500", "dialled from 2700 to 6500 K"),
        ("fill", "its role, fill"),
        ("f/2.8", "f/2.8 on your meter"),
        ("at 2 m", "2 m away"),
        ("-1/3 stop", "0.33 stop under the key"),
        ("like north window", 'like "north window"'),
    ]
    assert entry.name == "edge panel 2"
    assert '"edge panel" is taken, so this one is called "edge panel 2"' in entry.assumed


def test_names_are_made_up_and_counted() -> None:
    """What it is with its watts; the second of a name has a number, whatever its capitals."""
    from evencast.actions.editing.lights import add_light

    text = PLAN
    names = []
    for _ in range(3):
        edited = add_light(text, typed_light("Tungsten 650 fill", plan=text))
        text = edited.text
        names.append(edited.name)
    assert names == ["Tungsten 650", "Tungsten 650 2", "Tungsten 650 3"]


def test_a_plan_with_errors_still_lends_its_names() -> None:
    """And one that cannot be read at all is no reason to refuse a line."""
    broken = PLAN.replace('role = "fill"', 'role = "fil"')
    assert typed_light("LED 5600K fill like north window", plan=broken).asks == []
    assert typed_light("LED 5600K fill", plan="= =").keys["cct_k"] == 5600
