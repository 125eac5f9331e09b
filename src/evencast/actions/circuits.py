"""The amps on each circuit of a plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from evencast.actions.load import Piece, check_number, on_one_circuit
from evencast.actions.taking import positive
from evencast.plan.light import Light
from evencast.plan.place import folded, listed_names, quoted
from evencast.plan.plan import Plan
from evencast.plan.scene import Circuit
from evencast.results.expose import CircuitLoad


def circuits(plan: Plan) -> list[CircuitLoad]:
    """What the lights of a plan draw from each of its circuits, in the plan's order.

    A light counts with the amps of its plate, or with its watts by its power factor; one of
    which neither is written is named and not counted.
    Raises  EvencastError for numbers beyond anything met on a set
    """
    return [_circuit(each, _on(each, plan.light)) for each in plan.circuit]


def _on(circuit: Circuit, lights: Sequence[Light]) -> list[Light]:
    return [
        light
        for light in lights
        if light.circuit is not None and folded(light.circuit) == folded(circuit.name)
    ]


def _circuit(circuit: Circuit, lights: Sequence[Light]) -> CircuitLoad:
    where = f"circuit {quoted(circuit.name)}"
    volts = positive(circuit.volts, where=where, example="volts = 230")
    breaker_a = positive(circuit.breaker_a, where=where, example="breaker_a = 16")
    counted = [each for each in lights if _says_what_it_draws(each)]
    uncounted = [each.name for each in lights if not _says_what_it_draws(each)]
    check_number(sum(each.count for each in counted), where=where)
    load = on_one_circuit(
        [piece for light in counted for piece in _pieces(light, volts)],
        volts=volts,
        breaker_a=breaker_a,
        margin=circuit.margin,
        changed_by='"margin" of the circuit',
    )
    load = replace(load, notes=load.notes + _notes(counted, uncounted))
    return CircuitLoad(circuit.name, [each.name for each in lights], uncounted, load)


def _says_what_it_draws(light: Light) -> bool:
    return light.watts is not None or light.amps is not None


def _pieces(light: Light, volts: float) -> list[Piece]:
    """Every fixture of a light for itself."""
    where = f"light {quoted(light.name)}"
    if light.amps is not None:
        volt_amperes = positive(light.amps, where=where, example="amps = 3.1") * volts
    else:
        watts = positive(light.watts or 0.0, where=where, example="watts = 650")
        volt_amperes = watts / (light.power_factor or 1.0)
    if light.count == 1:
        return [Piece(light.name, light.watts, volt_amperes)]
    return [
        Piece(f"{light.name} {number} of {light.count}", light.watts, volt_amperes)
        for number in range(1, light.count + 1)
    ]


def _notes(counted: Sequence[Light], uncounted: Sequence[str]) -> list[str]:
    """Lights that are not counted, and those that may be counted too low."""
    notes = []
    taken_as_1 = [
        each.name
        for each in counted
        if each.amps is None and each.power_factor is None and each.lamp_kind() != "tungsten"
    ]
    if taken_as_1:
        notes.append(
            f"Taken with a power factor of 1, for want of another: {listed_names(taken_as_1)}. "
            "LED, tubes and discharge lamps draw more than their watts say."
        )
    if uncounted:
        notes.append(
            f"Not counted, for neither watts nor amps are written: {listed_names(uncounted)}. Read "
            "them off the plates: what is drawn is more than this."
        )
    return notes
