"""The pocket page: valid, sealed, and its numbers those of the answers."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

import html5lib
import pytest
from click.testing import CliRunner

from evencast.actions.handouts import cards, pocket
from evencast.actions.handouts.job import Job, job
from evencast.actions.handouts.kit_rows import kit_rows
from evencast.actions.kit import LoadedKit
from evencast.actions.match import match
from evencast.actions.through import through
from evencast.cli.main import main
from evencast.filters import Filter, generic
from evencast.handouts.anchor import anchor
from evencast.handouts.pocket import (
    BalanceRow,
    PocketPage,
    StackChoice,
    StackTable,
    digest,
    pocket_page,
    script,
)
from evencast.handouts.sums import SUMS, by_hand
from evencast.quantities import say_left, say_stops
from evencast.spectra import GRID_NM
from evencast.tables import page_text
from tests.pages.jobs import ROUGH_NAMES, ROUGH_SETUP, WISHES
from tests.plans import light, write_plan

MOST_BYTES = 400_000
"""The demo's page: far under a megabyte."""


@pytest.fixture(scope="module")
def demo_content(demo: Job) -> PocketPage:
    return pocket.page_of(demo)


@pytest.fixture(scope="module")
def demo_page(demo_content: PocketPage) -> bytes:
    return pocket_page(demo_content)


@pytest.fixture(scope="module")
def rough_page(rough: Job) -> bytes:
    return made(rough)


def made(ready: Job) -> bytes:
    (file,) = pocket.made(ready)
    assert file.name == "pocket.html"
    return file.content


def tree(page: bytes) -> Element:
    """The page as a browser takes it; anything that is not valid HTML fails."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    root: Element = parser.parse(page.decode("utf-8"))
    return root


def text_of(node: Element) -> str:
    """Its text, every run of white space as one space."""
    return re.sub(r"\s+", " ", "".join(node.itertext())).strip()


def of_class(root: Element, name: str) -> list[Element]:
    return [each for each in root.iter() if name in each.get("class", "").split()]


def with_key(root: Element, key: str) -> list[Element]:
    return [each for each in root.iter() if each.get(key) is not None]


def content_of(page: bytes, tag: str) -> list[str]:
    """What stands in the elements of a tag, to the letter."""
    return re.findall(rf"<{tag}>(.*?)</{tag}>", page.decode("utf-8"), re.DOTALL)


class Markup(HTMLParser):
    """Every tag with its attributes, by another parser."""

    def __init__(self, page: bytes) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(page.decode("utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))


@pytest.mark.parametrize("which", ["demo_page", "rough_page"])
class TestEveryPage:
    """What holds of any page, whatever is in it."""

    @pytest.fixture
    def page(self, which: str, request: pytest.FixtureRequest) -> bytes:
        found: bytes = request.getfixturevalue(which)
        return found

    def test_it_is_valid(self, page: bytes) -> None:
        root = tree(page)
        assert root.get("lang") == "en"
        assert len(list(root.iter("h1"))) == 1

    def test_its_policy_names_its_own_style_and_script_and_nothing_else(self, page: bytes) -> None:
        (policy,) = (
            each["content"] or ""
            for tag, each in Markup(page).tags
            if tag == "meta" and each.get("http-equiv") == "Content-Security-Policy"
        )
        (style,), (code,) = content_of(page, "style"), content_of(page, "script")
        assert dict(each.split(" ", 1) for each in policy.split("; ")) == {
            "default-src": "'none'",
            "style-src": f"'{digest(style)}'",
            "script-src": f"'{digest(code)}'",
            "base-uri": "'none'",
            "form-action": "'none'",
        }

    def test_it_refers_to_nothing_outside(self, page: bytes) -> None:
        ids = [each["id"] for _, each in Markup(page).tags if "id" in each]
        assert len(ids) == len(set(ids))
        for tag, each in Markup(page).tags:
            assert tag not in {"link", "img", "iframe", "object", "embed", "base", "form"}
            assert not {"src", "srcset", "action", "style", "ping"} & each.keys(), (tag, each)
            assert not any(key.startswith("on") for key in each)
            if "href" in each:
                assert (each["href"] or "")[0] == "#"
                assert (each["href"] or "")[1:] in ids
            for key in ("for", "aria-controls"):
                assert key not in each or each[key] in ids
        for text in (page_text("pocket.css"), script()):
            assert not re.search(r"https?:|url\(|@import|fetch\(|XMLHttp|eval\(|import ", text)

    def test_headings_go_down_one_at_a_time(self, page: bytes) -> None:
        depths = [int(tag[1]) for tag, _ in Markup(page).tags if re.fullmatch(r"h[1-6]", tag)]
        assert depths[0] == 1
        assert all(after - before <= 1 for before, after in pairwise(depths))

    def test_every_field_has_a_name(self, page: bytes) -> None:
        tags = Markup(page).tags
        named = {each["for"] for tag, each in tags if tag == "label"}
        for tag, each in tags:
            if tag in {"input", "select"}:
                assert each["id"] in named
            if tag == "button":
                assert each["aria-label"]

    def test_its_frame_is_grey(self, page: bytes) -> None:
        (style,) = content_of(page, "style")
        for red, green, blue in re.findall(r"#(..)(..)(..)\b", style):
            assert red == green == blue
        assert not re.search(r"rgb|hsl|oklch", style)


def test_a_style_and_a_script_can_stand_in_a_page() -> None:
    """Nothing in them ends the element they stand in."""
    assert "</" not in page_text("pocket.css")
    assert not re.search(r"</|<!--", script())
    assert script().isascii() or "“" in script()


def test_a_digest_is_as_published() -> None:
    """The example of the W3C's Content Security Policy Level 3, section 8.3 on hashes."""
    said = "alert('Hello, world.');"
    assert digest(said) == "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng="


def test_the_same_job_gives_the_same_bytes(demo: Job, demo_page: bytes) -> None:
    assert made(demo) == demo_page
    assert len(demo_page) < MOST_BYTES


def by_anchor(page: bytes) -> dict[str, Element]:
    return {each.get("id", ""): each for each in of_class(tree(page), "card")}


def test_cards_are_where_the_codes_on_paper_lead(rough: Job, rough_page: bytes) -> None:
    wanted = [
        anchor(light.name, part.name) for part in rough.parts for light in part.loaded.plan.light
    ]
    assert list(by_anchor(rough_page)) == wanted
    linked = [each.get("href", "")[1:] for each in tree(rough_page).iter("a")]
    assert all(each in linked for each in wanted)


@pytest.mark.parametrize("which", ["demo", "rough"])
def test_a_card_says_what_the_card_on_paper_says(
    which: str, request: pytest.FixtureRequest
) -> None:
    ready: Job = request.getfixturevalue(which)
    found = by_anchor(request.getfixturevalue(f"{which}_page"))
    for part in ready.parts:
        for each in part.loaded.plan.light:
            card = cards.card_of(ready, part, each)
            told = text_of(found[anchor(each.name, part.name)])
            said = [card.number, card.name, card.sub, *card.otherwise, *card.cautions]
            said += [text for step in card.steps for text in (step.place, step.what, step.note)]
            said += [text for fact in card.facts for text in fact]
            said += [
                text
                for row in card.rows
                for text in (row.kelvin, row.between, row.duv, row.stop, row.time)
            ]
            for text in said:
                assert re.sub(r"\s+", " ", text.replace("\n", ", ")).strip() in told


def test_the_job_says_what_solve_says(demo: Job, demo_page: bytes) -> None:
    said = json.loads(CliRunner().invoke(main, ["solve", str(demo.path), "--json"]).output)
    told = text_of(tree(demo_page))
    assert f"{said['balance']['cct_k']:.0f} K" in told
    assert said["why"] in told
    assert f"{said['pieces']} pieces, {said['area_m2']:.1f} m² of sheet" in told
    for each in said["spots"]:
        assert each["verdict"] in told
    found = by_anchor(demo_page)
    for each in said["lights"]:
        card = text_of(found[anchor(each["name"], "")])
        assert each["reason"] in card
        assert say_left(each["residual_mired"], each["residual_duv"]).split()[0] in card
        for caution in each["cautions"]:
            assert caution in card
    for circuit in said["circuits"]:
        assert f"{circuit['load']['amps']:.1f} A of {circuit['load']['limit_a']:.1f} A" in told


def rows_of(page: bytes, name: str) -> dict[int, tuple[str, list[str]]]:
    """Of a light, by balance: what is done first, and the stacks as they are told."""
    for each in with_key(tree(page), "data-help"):
        if name in text_of(next(each.iter("h3"))):
            return {
                int(row.get("data-k", "")): (
                    text_of(row),
                    [text_of(choice) for choice in next(row.iter("ol"))],
                )
                for row in with_key(each, "data-k")
            }
    raise AssertionError(name)


@pytest.mark.parametrize(
    ("name", "light_text", "role", "aim"),
    [
        ("north window", "daylight D65", "fill", "balance-10mired"),
        ("stair tubes", "daylight tube FL5", "background", "balance+0mired"),
        ("bench lamp", "LED phosphor 4100 K B3", "practical", "balance+0mired"),
    ],
)
def test_stacks_at_a_balance_are_told_as_match_finds_them(
    demo: Job, demo_page: bytes, name: str, light_text: str, role: Any, aim: str
) -> None:
    rows = rows_of(demo_page, name)
    assert list(rows) == list(range(2800, 6501, 50))
    for balance_k in (2850, 4300, 6150):
        answer = match(
            light_text,
            kind=None,
            aim_text=aim,
            balance=f"{balance_k}K",
            kit=demo.path.parent / "kit.toml",
            role=role,
            layers=3,
            most=3,
        )
        expected = []
        for each in answer.choices:
            loss = f", takes {say_stops(each.loss_stops)}" if each.filters else ""
            left = say_left(each.residual_mired, each.residual_duv)
            inside = "inside" if each.within_tolerance else "outside"
            expected.append(f"{' + '.join(each.filters) or 'no sheet'} {left}{loss}, {inside}")
        assert rows[balance_k][1] == expected


def test_what_is_dialled_is_said_first(demo_page: bytes) -> None:
    assert rows_of(demo_page, "edge panel")[3850][0].startswith("3850 K dial 3850 K")


def test_lights_without_a_table_are_told_why(demo_page: bytes) -> None:
    told = text_of(tree(demo_page))
    assert "8 yard lamp: its moves allow no sheets." in told
    assert "3 garden: it has the sheets of north window, before which it lies." in told
    assert "whatever its stock" in told


def test_set_ups_in_which_a_light_is_the_same_share_a_table(rough: Job, rough_page: bytes) -> None:
    tables = with_key(tree(rough_page), "data-help")
    heads = [text_of(each).split("Every balance")[0] for each in tables]
    window = [each for each in heads if "north window" in each]
    assert len(window) == 1
    assert "in set-up" not in window[0]
    assert len(rough.parts) == 2


def test_the_kit_says_what_through_says(demo: Job, demo_page: bytes) -> None:
    found = {text_of(next(each.iter("h3"))): each for each in of_class(tree(demo_page), "filter")}
    kit = demo.parts[0].loaded.kit
    assert len(found) == len(kit.filters) == 24
    for each in kit.filters:
        (article,) = (row for head, row in found.items() if head == f"{each.name} {each.role}")
        told = {
            text_of(next(pair.iter("dt"))): text_of(next(pair.iter("dd")))
            for pair in article.iter("div")
        }
        answer = through(told["On"], [each.name], kind=None, kit=demo.path.parent / "kit.toml")
        assert answer.shift_mired is not None
        assert answer.shift_duv is not None
        assert told["Shift"].startswith(f"{abs(answer.shift_mired):.0f} mired")
        if abs(answer.shift_mired) >= 0.5:
            assert ("warmer" in told["Shift"]) == (answer.shift_mired > 0)
        if abs(answer.shift_duv) >= 0.00005:
            assert told["Duv shift"].startswith(f"{answer.shift_duv:+.4f} ")
        assert told["Loss"].startswith(f"{say_stops(answer.loss_stops)} ({answer.loss_stops:.2f})")
        if answer.band is None:
            assert "nine in ten" not in "".join(told.values())
        else:
            low, high = answer.band["loss_stops"]
            assert told["Loss"].endswith(f"nine in ten {low:.2f} to {high:.2f} stop")
            cool, warm = (round(abs(end or 0.0)) for end in answer.band["shift_mired"])
            between = re.findall(r"\d+", told["Shift"].split("nine in ten")[1])
            assert [int(number) for number in between] == [cool, warm]


def test_all_can_be_read_without_script(demo_page: bytes) -> None:
    """What only a script can do is hidden until it runs, and the sums stand there by hand."""
    root = tree(demo_page)
    hidden = [each for each in root.iter() if each.get("hidden") is not None]
    assert hidden
    assert all(each.get("data-script") is not None for each in hidden)
    for each in hidden:
        assert not with_key(each, "data-k")
        assert not of_class(each, "card")
    told = text_of(root)
    for text in by_hand():
        assert text in told
    assert {each.get("data-sum") for each in with_key(root, "data-sum")} == {
        each.key for each in SUMS
    }


def test_names_of_every_kind_are_whole_and_harmless(rough: Job, rough_page: bytes) -> None:
    told = text_of(tree(rough_page))
    for name in [*ROUGH_NAMES.values(), ROUGH_SETUP]:
        assert re.sub(r"\s+", " ", name) in told


def test_a_name_that_is_markup_stays_a_name(tmp_path: Path) -> None:
    names = [
        "</script><script>alert(1)</script>",
        '"><b onclick=x>',
        "</style>&amp;",
        "{{ 7 * 7 }}",
    ]
    lights = "".join(light(name.replace('"', '\\"'), "") for name in names)
    path = write_plan(tmp_path, "[limits]\nlayers = 1\n" + lights)
    page = made(job(path, WISHES, setup=None, progress=None))
    root = tree(page)
    assert len(content_of(page, "script")) == 1
    assert not list(root.iter("b")) or all(not each.attrib.get("onclick") for each in root.iter())
    found = by_anchor(page)
    for name in names:
        assert name in text_of(found[anchor(name, "")])


def test_a_plan_without_lights_still_has_its_kit_and_its_sums(tmp_path: Path) -> None:
    page = made(job(write_plan(tmp_path, ""), WISHES, setup=None, progress=None))
    root = tree(page)
    assert "The plan has no light yet" in text_of(root)
    assert not of_class(root, "card")
    assert not with_key(root, "data-help")
    assert len(of_class(root, "filter")) == 8
    assert with_key(root, "data-sum")


def test_what_takes_long_tells_how_far_it_is(tmp_path: Path) -> None:
    told: list[tuple[str, int, int]] = []
    path = write_plan(tmp_path, "[limits]\nlayers = 1\n" + light("a", "") + light("b", ""))
    made(job(path, WISHES, setup=None, progress=lambda *each: told.append(each)))
    assert [each for each in told if "balance" in each[0]][-2:] == [
        ("stacks at every balance", 1, 2),
        ("stacks at every balance", 2, 2),
    ]


def test_problems_are_on_the_page(tmp_path: Path) -> None:
    lights = light("key", "", builtin="high-pressure sodium HP1")
    ready = job(write_plan(tmp_path, lights), WISHES, setup=None, progress=None)
    problems = ready.parts[0].answer.problems
    assert problems
    told = text_of(tree(made(ready)))
    for each in problems:
        assert f"{each.where}: {each.message}. {each.remedy}" in told


def opaque(name: str) -> Filter:
    return replace(generic("full CTB"), name=name, transmittance=GRID_NM * 0.0, possible=None)


def test_a_kit_of_odd_filters_is_told_in_words() -> None:
    """One that passes nothing, and one whose light has no colour temperature."""
    green = generic("full plus green").transmittance ** 12
    odd = replace(generic("full CTO"), name="leaf", role="effect", transmittance=green)
    kit = LoadedKit("odd", (opaque("board"), replace(odd, possible=None, measured=True)))
    board, leaf = kit_rows(kit)
    assert [each.text for each in board.facts] == ["all of it: nothing of tungsten 3200 K passes"]
    told = {each.name: each.text for each in leaf.facts}
    assert told["Shift"] == "none: one of both colours has no colour temperature"
    assert "nan" not in str(leaf)


def test_forty_lights_and_three_hundred_filters_fit(demo_content: PocketPage) -> None:
    """By what is told of them, with names as long as they get."""
    page = demo_content
    name = "n" * 120
    choices = [StackChoice(" + ".join([name] * 3), "2 mired cool, takes 1 stop, inside")] * 3
    rows = [BalanceRow(balance_k, "", choices) for balance_k in range(2800, 6501, 50)]
    tables = [
        StackTable(name, str(number), "", "as key", page.tables[0].anchor, rows, [])
        for number in range(40)
    ]
    filters = [replace(page.filters[0], name=f"{number} {name}") for number in range(300)]
    content = pocket_page(replace(page, tables=tables, filters=filters))
    assert len(content) < 5_000_000
    assert len(of_class(tree(content), "filter")) == 300
