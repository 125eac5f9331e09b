"""One filter of a kit on its own: words, numbers, the spectrum, pictures at two balances, what can
be changed."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.actions.card.facts import as_sentence
from evencast.actions.card.words import say_turn
from evencast.actions.editing.document import KIT
from evencast.actions.editing.fields import shown_fields
from evencast.actions.filter_page import BALANCES_K, balances_of, closer, shown
from evencast.camera.patches import Patch
from evencast.errors import EvencastError
from evencast.handouts.pictures import FACES, faces_svg
from evencast.plan.kit import KitFilter
from evencast.plan.place import folded
from evencast.quantities import say_left, say_stops
from evencast.results.card import CardElsewhere, CardPicture
from evencast.web.desk import Desk, Opened
from evencast.web.pages.chart import Chart, drawn
from evencast.web.pages.kit import FilterRow, filter_row, loaded, way_of

CHART_PX = 560.0
COMMON = ("name", "role", "series", "note")
KEYS = {
    "generic": ("generic",),
    "spectrum": ("spectrum",),
    "kelvin": ("kelvin.from_k", "kelvin.to_k", "kelvin.stops"),
    "xyy": ("x", "y", "Y_percent"),
}
LABELS = {
    "generic": "Generic filter",
    "spectrum": "File of its spectrum",
    "kelvin.from_k": "Turns this many kelvin",
    "kelvin.to_k": "Into this many",
    "kelvin.stops": "And takes this many stops",
    "x": "x",
    "y": "y",
    "Y_percent": "Y in percent",
}


@dataclass(frozen=True)
class KnownField:
    """A field of what is known of a filter."""

    name: str
    label: str
    value: str


@dataclass(frozen=True)
class FilterPicture:
    """Grey and two skins at one balance: bare, and through the filter with the stop held.

    *_patches : as names and colours, for those who do not see them
    """

    balance: str
    bare: str
    bare_looks: str
    bare_patches: str
    filtered: str
    filtered_looks: str
    filtered_patches: str
    left: str


@dataclass(frozen=True)
class FilterPage:
    """A filter of a kit.

    facts  : names and values in words
    use, limits : when to use it, and what it cannot do
    elsewhere   : in front of other lamps
    why    : why it cannot be looked at; "" where it can
    known  : what can be changed of what is known of it
    """

    number: int
    revision: int
    kit: str
    row: FilterRow
    facts: list[tuple[str, str]]
    use: list[str]
    limits: list[str]
    notes: list[str]
    cautions: list[str]
    elsewhere: list[str]
    chart: Chart | None
    balances: list[str]
    pictures: list[FilterPicture]
    why: str
    series: str
    known: list[KnownField]
    plan: int | None


def filter_page(
    desk: Desk, opened: Opened, name: str, *, balances: tuple[str, str] | None, plan: int | None
) -> FilterPage:
    """A filter by name, whatever its capitals.

    balances : two of the camera, as typed; None for the usual two
    Raises  DocumentErrors for a kit that cannot be read; EvencastError for a name that no filter
            has, and for balances that are none
    """
    kit = loaded(desk, opened)
    found = next((each for each in shown(kit) if folded(each.entry.name) == folded(name)), None)
    if found is None:
        raise EvencastError(
            "the kit has no such filter", where=name[:80], remedy="Go to the kit and choose one."
        )
    asked = BALANCES_K if balances is None else balances_of(balances)
    chart, pictures, elsewhere, why = None, list[FilterPicture](), list[str](), found.why
    if not why:
        seen = closer(kit, name, asked)
        chart = drawn(seen.chart, width=CHART_PX)
        pictures = [_picture(each) for each in seen.pictures]
        elsewhere = [_elsewhere(each) for each in seen.elsewhere]
    row, told = filter_row(found, opened.document.id, plan), found.facts
    return FilterPage(
        number=opened.document.id,
        revision=opened.revision.number,
        kit=kit.name,
        row=row,
        facts=[
            ("In front of", row.lamp),
            ("Shift", row.shift),
            ("Duv shift", row.duv),
            ("Comes out", row.comes_out),
            ("Loss", row.loss),
        ]
        if told
        else [],
        use=[] if told is None else [as_sentence(each.rstrip(".")) for each in told.use],
        limits=[] if told is None else [as_sentence(each.rstrip(".")) for each in told.limits],
        notes=[] if told is None else told.notes,
        cautions=[] if told is None else told.cautions,
        elsewhere=elsewhere,
        chart=chart,
        balances=[f"{each:.0f}K" for each in asked],
        pictures=pictures,
        why=why,
        series=found.entry.series or "",
        known=_known(opened, found.entry),
        plan=plan,
    )


def _known(opened: Opened, entry: KitFilter) -> list[KnownField]:
    way = way_of(entry)
    if way != "xyy":
        names = list(KEYS[way])
        labels = [LABELS[each] for each in names]
    else:
        every = [(place, each.illuminant) for place, each in enumerate(entry.xyy or ())]
        names = [f"xyy.{place}.{key}" for place, _ in every for key in KEYS["xyy"]]
        labels = [f"{LABELS[key]} under {under}" for _, under in every for key in KEYS["xyy"]]
    values = shown_fields(opened.text, ("filter", entry.name), names, sort=KIT)
    return [
        KnownField(name, label, values[name]) for name, label in zip(names, labels, strict=True)
    ]


def _picture(each: CardPicture) -> FilterPicture:
    return FilterPicture(
        balance=f"{each.balance_k:.0f} K",
        bare=faces_svg(each.bare, ground="page"),
        bare_looks=each.bare_looks,
        bare_patches=_patches(each.bare),
        filtered=faces_svg(each.filtered, ground="page"),
        filtered_looks=each.filtered_looks,
        filtered_patches=_patches(each.filtered),
        left=say_left(each.residual_mired, each.residual_duv),
    )


def _patches(patches: list[Patch]) -> str:
    return ", ".join(f"{each.name} {each.hex}" for each in patches[:FACES])


def _elsewhere(each: CardElsewhere) -> str:
    turned = "none" if each.shift_mired is None else say_turn(each.shift_mired)
    return f"{each.light}: {turned}, loses {say_stops(each.loss_stops)}"
