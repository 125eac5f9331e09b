"""Names in a typed line: the light's own, those of other things of the plan, files, plain words."""

from __future__ import annotations

import re
from collections.abc import Sequence

from evencast.actions.entry.lamps import FORMS, TECHNOLOGIES, is_tube
from evencast.actions.entry.line import TAKEN, Bit, Line, alike, any_of
from evencast.errors import nearest
from evencast.lights.looks import look_names
from evencast.plan.place import folded, quoted
from evencast.plan.plan import Plan
from evencast.results.editing import Understood

_I = re.IGNORECASE

ROLES = {"key light": "key", "key": "key", "fill light": "fill", "fill": "fill"}
ROLES |= {"background": "background", "backdrop": "background", "bg": "background"}
ROLES |= {"practicals": "practical", "practical": "practical", "view": "view", "other": "other"}
ROLES |= {"backlight": "other", "rim": "other", "kicker": "other"}
ROLES |= {"hair light": "other", "hair": "other"}
"""Words for what a light does for the picture; those of light from behind have no role here."""

MOVES = {"dimmable": "dim", "can dim": "dim", "dims": "dim", "scrims": "scrim", "scrim": "scrim"}
MOVES |= {"can switch off": "switch off", "switchable": "switch off"}
MOVES |= {"leave as is": "leave", "leave": "leave", "not ours": "leave"}
"""Words for what may be done to a light."""

FOCUS = {"flooded": "flood", "flood": "flood", "spotted": "spot", "spot": "spot"}
DIAMETERS = {"t5": 70, "t8": 102, "t12": 140}
"""Width of a sleeve round a tube: pi times its diameter of 16, 26 or 38 mm, and a lap of 20 mm;
common practice."""

FILLERS = frozenset(
    {"a", "an", "and", "as", "at", "by", "each", "for", "from", "in", "is", "it", "its", "light"}
    | {"lights", "of", "off", "on", "one", "or", "read", "reads", "stands", "the", "there", "to"}
    | {"w", "with"}
)
"""Words that say nothing by themselves."""

_QUOTED = re.compile(r'(?<![\w\'])"(?P<name>[^"]*[^\W\d][^"]*)"')
_PREFIX = re.compile(r"^(?P<name>[^:,\"]*[^\W\d][^:,\"]*):\s+")
_CALLED = re.compile(r"\b(?:called|named)\s+(?P<name>[^,;\"]*[^\W\d][^,;\"]*)", _I)
_FILE = re.compile(r"(?<!\S)(?P<file>[^\s,;\"]+\.(?P<end>csv|spdx|gdtf|ies|ldt))(?![\w.])", _I)
_WORD = re.compile(rf"[^\s,;{TAKEN}]+")


def read_names(line: Line, plan: Plan) -> None:
    """What the line calls by name; before anything else is read out of those names."""
    lights = [each.name for each in plan.light if each.name]
    circuits = [each.name for each in plan.circuit if each.name]
    looks = [*(each.name for each in plan.look if each.name), *look_names()]
    _of_plan(line, "like", r"like", lights, "light")
    _of_plan(line, "behind", r"behind", lights, "light")
    _of_plan(line, "look", r"look", looks, "look")
    _of_plan(line, "circuit", r"circuit", circuits, "circuit")
    if circuits:
        _of_plan(line, "circuit", r"on|plugged into", circuits, "")
    for match in line.found(_FILE):
        what = "photometry" if match["end"].casefold() in ("ies", "ldt") else "spectrum"
        line.say(what, match["file"], match, f"the file of its {what}")
    for pattern in (_QUOTED, _PREFIX, _CALLED):
        for match in line.found(pattern):
            _own_name(line, match)


def _own_name(line: Line, match: re.Match[str]) -> None:
    name = " ".join(match["name"].replace(TAKEN, " ").split())
    role = ROLES.get(name.casefold())
    line.say("name", name, match, f"its name, {quoted(name)}")
    if role is not None:
        line.say("role", role, match, f"its role, {role}")


def _of_plan(line: Line, what: str, before: str, names: Sequence[str], thing: str) -> None:
    """A name of something of the plan behind a word, quoted or not.

    thing : what to ask for where nothing is called so; "" for what may mean something else
    """
    by_plain = {folded(alike(each)): each for each in names if alike(each)}
    known = "|".join(
        re.escape(each).replace(r"\ ", r"\s+").replace(",", ",?")
        for each in sorted(by_plain, key=len, reverse=True)
    )
    by_plain = {each.replace(",", ""): name for each, name in by_plain.items()}
    if known:
        exact = re.compile(
            rf"\b(?:{before})\s+(?:the\s+)?(?P<q>\"?)(?P<name>{known})(?P=q)(?!\w)", _I
        )
        for match in line.found(exact):
            name = by_plain[folded(match["name"]).replace(",", "")]
            line.say(what, name, match, f"{what} {quoted(name)}")
    if not thing:
        return
    for match in line.found(re.compile(rf"\b(?:{before})\s+(?P<name>[^,;{TAKEN}]+)", _I)):
        said = match["name"].strip(' "')
        close = (nearest(said, names) or list(names))[:6]
        line.query(
            match, f"no {thing} is called {quoted(said)}", *(f"{what} {each}" for each in close)
        )


def read_words(line: Line) -> None:
    """Role, focus, moves, and the diameter of a tube."""
    _one_of(line, "role", ROLES, "its role, {}")
    _one_of(line, "focus", FOCUS, "{}")
    for match in line.found(any_of(tuple(MOVES))):
        move = MOVES[folded(match[0])]
        line.say(f"move {move}", move, match, f"what may be done to it: {move}")
    if is_tube(line):
        _one_of(line, "sleeve", DIAMETERS, "sleeves of {} mm round")


def _one_of(line: Line, what: str, words: dict[str, str] | dict[str, int], told: str) -> None:
    for match in line.found(any_of(tuple(words))):
        value = words[folded(match[0])]
        line.say(what, value, match, told.format(value))


VOCABULARY = (*TECHNOLOGIES, *FORMS, *ROLES, *FOCUS, *MOVES, "lux", "mired", "stop", "watts")


def read_rest(line: Line) -> list[str]:
    """What is left: words beside what it is belong to its name, the others were not understood.

    Returns the words that were not
    """
    lost: list[str] = []
    own = line.value("name") is not None
    for run in _runs(line):
        words = [each[0] for each in run]
        if all(each.casefold() in FILLERS or not re.search(r"\w", each) for each in words):
            continue
        text = " ".join(words)
        typo = [near for each in words for near in _meant(each)]
        named = re.search(r"[^\W\d]", text) and not any(map(str.isdigit, text))
        if named and not own and _is_beside(line, run) and not (typo and not _is_a_lamp(line)):
            _name_words(line, run)
            own = True
            continue
        lost.append(text)
        if typo:
            line.ask(f"{quoted(text)} is not understood: is it this?", *typo, instead_of=text)
        else:
            line.ask(
                f"{quoted(text)} is not understood: leave it out, or put it in quotes to make it "
                "the name",
                *([] if own else [f'"{text}"']),
                instead_of=text,
            )
    return lost


def _runs(line: Line) -> list[list[re.Match[str]]]:
    """Words that are left, those with only a space between them together."""
    runs: list[list[re.Match[str]]] = []
    for match in _WORD.finditer(line.left):
        if runs and line.left[runs[-1][-1].end() : match.start()] == " ":
            runs[-1].append(match)
        else:
            runs.append([match])
    return runs


def _is_beside(line: Line, run: list[re.Match[str]]) -> bool:
    """Whether words begin the line, or stand right beside what says what the light is."""
    says = ("technology", "form", "role", "built-in light")
    begin, end = run[0].start(), run[-1].end()
    there = (_before(line, begin, *says[:2]), _behind(line, end, *says))
    return begin == 0 or there != (None, None)


def _lamp_spans(line: Line, *says: str) -> list[tuple[int, int]]:
    bits = [line.said[each] for each in says if each in line.said]
    return [(each.begin, each.begin + len(each.words)) for each in bits]


def _before(line: Line, at: int, *says: str) -> int | None:
    """Where words begin that end one space before a place."""
    spans = _lamp_spans(line, *says)
    return next((begin for begin, end in spans if line.text[end:at] == " "), None)


def _behind(line: Line, at: int, *says: str) -> int | None:
    """Where words end that begin one space behind a place."""
    spans = _lamp_spans(line, *says)
    return next((end for begin, end in spans if line.text[at:begin] == " "), None)


def _name_words(line: Line, run: list[re.Match[str]]) -> None:
    """Takes words as the name, with what stands right beside them: "edge LED panel", "garden
    view", "window left"."""
    begin, end = run[0].start(), run[-1].end()
    before = _before(line, begin, "form", "technology")
    beside = _behind(line, end, "technology")
    beside = _behind(line, beside or end, "form") or beside
    if before is None:
        end = beside or _behind(line, end, "role", "built-in light") or end
    elif beside is None:
        begin = before
    else:
        begin, end = before, beside
    name = line.text[begin:end].strip(" ,;")
    for match in run:
        line.take(match, "")
    line.said["name"] = Bit(name, name, begin)
    words = " ".join(each[0] for each in run)
    line.understood.append((run[0].start(), Understood(words, f"of its name, {quoted(name)}")))


def _is_a_lamp(line: Line) -> bool:
    return any(each in line.said for each in ("technology", "form", "built-in light", "spectrum"))


def _meant(word: str) -> list[str]:
    """The word of the vocabulary that this one may be a slip for."""
    if len(word) < 4:
        return []
    close = nearest(word, VOCABULARY, most=1)
    return [each for each in close if _letters_off(word.casefold(), each) <= 1 + (len(word) > 6)]


def _letters_off(one: str, other: str) -> int:
    from evencast.plan.keys import distance  # only needed once something is misspelt

    return distance(one, other)
