"""Many phones on one plan, against the real server on this machine.

Run:   python -m benchmarks.load [--phones N] [--seconds S]
Bars:  95th percentile of an action 300 ms; 15 ms of the server's processor time a view, in the
       mean, edits counted in; no error; no edit lost; memory flat.

Every phone joins by a code and then looks at the plan every five seconds: the page, the answer at
another balance, the JSON twin. Behind every ninth look it makes a light a third of a stop brighter
or darker, with what it has just seen before it. The client runs on the same processors as the
server.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import statistics
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import Any

import httpx

from evencast import tables
from evencast.store.library import Library
from tests.web import BROWSER, served

P95_MS, CPU_MS_A_VIEW = 300.0, 15.0
MOST_GROWTH = 0.10
EVERY_S = 5.0
VIEWS_TO_AN_EDIT = 9
LIGHTS = 30
BEGINNING_S = 15.0
"""Not counted: a server that has just started keeps nothing warm yet."""


@dataclass(slots=True)
class Measured:
    """What a run was like.

    view_ms, edit_ms : of each action, as the phone has to wait
    cpu_ms_a_view    : processor time of the server, edits counted in, for each view
    rss_mib          : memory of the server, at the middle and at the end
    edits, kept      : acknowledged by the server; in the library afterwards
    """

    view_ms: list[float] = field(default_factory=list)
    edit_ms: list[float] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    edits: int = 0
    kept: int = 0
    cpu_ms_a_view: float = 0.0
    rss_mib: list[float] = field(default_factory=list)

    @property
    def p95_ms(self) -> float:
        """Of all actions."""
        return statistics.quantiles([*self.view_ms, *self.edit_ms], n=20)[-1]

    @property
    def growth(self) -> float:
        """Of memory, from the middle to the end."""
        return self.rss_mib[-1] / self.rss_mib[0] - 1.0

    def missed(self) -> list[str]:
        """Bars that were missed, in words."""
        found = [
            (self.p95_ms > P95_MS, f"95th percentile {self.p95_ms:.0f} ms"),
            (self.cpu_ms_a_view > CPU_MS_A_VIEW, f"{self.cpu_ms_a_view:.1f} ms a view"),
            (self.growth > MOST_GROWTH, f"memory grew by {self.growth:.0%}"),
        ]
        return [*self.wrong(), *(said for is_missed, said in found if is_missed)]

    def wrong(self) -> list[str]:
        """What may never be, however quick the machine is."""
        lost = self.edits - self.kept
        return [*self.errors[:5], *([f"{lost} edits lost or doubled"] if lost else [])]

    def told(self) -> str:
        """All of it, for a person."""
        lines = [
            f"{len(times)} {name}: median {statistics.median(times):.0f} ms,"
            f" 95 % {statistics.quantiles(times, n=20)[-1]:.0f} ms"
            for name, times in (("views", self.view_ms), ("edits", self.edit_ms))
            if len(times) > 1
        ]
        return "\n".join(
            [
                *lines,
                f"all: 95 % {self.p95_ms:.0f} ms; server {self.cpu_ms_a_view:.1f} ms a view",
                f"memory {' to '.join(f'{each:.0f}' for each in self.rss_mib)} MiB",
                f"{self.edits} edits acknowledged, {self.kept} in the library;"
                f" {len(self.errors)} errors",
            ]
        )


def large_plan() -> dict[str, bytes]:
    """A bundle with a plan of thirty lights, and the kit of the demo."""
    texts = tables.demo_documents()
    lamps = ("tungsten 3200 K", "daylight D65", "cool white tube FL2", "white high-CRI tube FL8")
    plan = (
        'format = 1\nname = "large"\nkit = "kit.toml"\nmains_hz = 50\n'
        "[camera]\nbalance = { low_k = 2800, high_k = 6500, step_k = 100 }\n"
        "exposure_index = 800\nframes_per_s = 25\nshutter_deg = 180\nt_stop = 4\n"
    )
    for number in range(LIGHTS):
        role = ("key", "fill", "background")[number % 3]
        plan += (
            f'\n[[light]]\nname = "light {number + 1}"\nrole = "{role}"\n'
            f'builtin = "{lamps[number % len(lamps)]}"\n'
            "aperture = [{ width_mm = 300, height_mm = 300 }]\n"
            f"level = {{ lux = {400 + number} }}\n"
        )
    return {name: text.encode() for name, text in texts.items()} | {"plan.toml": plan.encode()}


def measure(place: Path, *, phones: int, seconds: float, interface: str | None) -> Measured:
    """A server on a library of its own, and so many phones for so long.

    interface : network that the phones come by; None for the laptop's own address
    """
    with Library.open(place) as library:
        library.import_files(library.new_bundle("large"), large_plan(), by="Ada")
    found = Measured()
    options = ("--crew", "--interface", interface) if interface else ()
    # in this thread another loop may be running
    with served(place, *options) as server, ThreadPoolExecutor(1) as aside:
        aside.submit(
            lambda: asyncio.run(_all(server, found, phones=phones, seconds=seconds))
        ).result()
    with Library.open(place) as library:
        plan = library.documents(kind="plan")[0]
        found.kept = len(library.history(plan)) - 1
    return found


async def _all(server: dict[str, Any], found: Measured, *, phones: int, seconds: float) -> None:
    pid = server["process"].pid
    started = time.monotonic() + BEGINNING_S
    until = started + seconds
    acting = [_phone(server, found, number, phones, started, until) for number in range(phones)]
    running = asyncio.gather(*acting)
    await asyncio.sleep(BEGINNING_S)
    cpu_s, views = _cpu_s(pid), len(found.view_ms)
    await asyncio.sleep(seconds / 2)
    found.rss_mib.append(_rss_mib(pid))
    await running
    found.rss_mib.append(_rss_mib(pid))
    found.cpu_ms_a_view = 1e3 * (_cpu_s(pid) - cpu_s) / max(1, len(found.view_ms) - views)


async def _phone(
    server: dict[str, Any], found: Measured, number: int, phones: int, started: float, until: float
) -> None:
    """One phone, from joining to the end."""
    draw = Random(f"phone {number}")
    async with httpx.AsyncClient(
        base_url=server["crew"] or server["url"], headers=BROWSER, timeout=30.0
    ) as client:
        await _join(client, server, number)
        plan = (await client.get("/jobs.json")).json()["plans"][0]["number"]
        page = (await client.get("/crew")).text
        token = page.partition('name="form_token" value="')[2].partition('"')[0]
        token = token or page.partition('"x-form-token": "')[2].partition('"')[0]
        at = started - BEGINNING_S + EVERY_S * (1 + number / phones)
        turn = number
        while at < until:
            await asyncio.sleep(max(0.0, at - time.monotonic()))
            turn += 1
            edits = turn % VIEWS_TO_AN_EDIT == 0
            try:
                path = f"/plan/{plan}.json" if edits else _any_look(plan, draw)
                seen, spent = await _look(client, path)
                if at >= started:
                    found.view_ms.append(1e3 * spent)
                if not edits:
                    continue
                spent = await _edit(client, found, plan, token, number, seen.json()["revision"])
                if at >= started:
                    found.edit_ms.append(1e3 * spent)
            except (httpx.HTTPError, ValueError) as error:
                found.errors.append(f"phone {number}: {error!r}"[:300])
            finally:
                at += EVERY_S


async def _join(client: httpx.AsyncClient, server: dict[str, Any], number: int) -> None:
    if server["crew"] is None:
        return
    link = next(each["link"] for each in server["codes"] if each["role"] == "edit")
    sent = {"name": f"Phone {number}", "secret": link.partition("#")[2]}
    answer = await client.post("/join", data=sent)
    if answer.status_code != 303:
        raise ValueError(answer.text)


def _any_look(plan: int, draw: Random) -> str:
    """One of the three ways to look at a plan."""
    balance = f"{draw.randrange(32, 62)}00K"
    return draw.choice(
        (f"/plan/{plan}", f"/plan/{plan}/answer?balance={balance}", f"/plan/{plan}.json")
    )


async def _look(client: httpx.AsyncClient, path: str) -> tuple[httpx.Response, float]:
    """Look at something; what came, and how long it took. [s]"""
    began = time.monotonic()
    answer = await client.get(path)
    spent = time.monotonic() - began
    if answer.status_code != 200:
        raise ValueError(f"{path}: {answer.status_code} {answer.text[:200]}")
    return answer, spent


async def _edit(
    client: httpx.AsyncClient, found: Measured, plan: int, token: str, number: int, revision: int
) -> float:
    """Change a light of this phone's own, with the page open; how long it took. [s]

    revision : that the phone has before it
    """
    thirds = 1 if found.edits % 2 else -1
    sent = {
        "based_on": str(revision),
        "light": f"light {number % LIGHTS + 1}",
        "thirds": str(thirds),
    }
    began = time.monotonic()
    answer = await client.post(f"/plan/{plan}/step", data=sent | {"form_token": token})
    spent = time.monotonic() - began
    if answer.status_code not in (200, 303):
        raise ValueError(f"edit: {answer.status_code} {answer.text[:200]}")
    found.edits += 1
    return spent


def _cpu_s(pid: int) -> float:
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _rss_mib(pid: int) -> float:
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    raise ValueError("no VmRSS")


def main() -> int:
    """Print what was measured; 1 where a bar is missed."""
    from evencast.web.interfaces import interfaces

    given = argparse.ArgumentParser()
    given.add_argument("--phones", type=int, default=30)
    given.add_argument("--seconds", type=float, default=60.0)
    asked = given.parse_args()
    network = next((each.name for each in interfaces()), None)
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "library"
        found = measure(place, phones=asked.phones, seconds=asked.seconds, interface=network)
    print(found.told())
    print(f"load of the machine before and after: {os.getloadavg()}")
    for each in found.missed():
        print(f"  missed: {each}")
    return int(bool(found.missed()))


if __name__ == "__main__":
    sys.exit(main())
