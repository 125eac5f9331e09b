"""The networks this machine is on, to choose the one that the crew uses."""

from __future__ import annotations

import socket
import struct
import sys
from contextlib import suppress
from dataclasses import dataclass
from ipaddress import AddressValueError, IPv4Address

from evencast.errors import EvencastError

_ASK_ADDRESS = {"linux": 0x8915, "darwin": 0xC0206921}
"""SIOCGIFADDR: netdevice(7); sys/sockio.h of macOS, from memory, unchecked."""


@dataclass(frozen=True, slots=True)
class Interface:
    """A network with this machine's address on it.

    name : of the system, such as wlan0; the address itself where the system tells none
    """

    name: str
    address: str


def interfaces() -> list[Interface]:
    """Those with an IPv4 address that others can reach."""
    found = _by_name() or [Interface(each, each) for each in _by_host_name()]
    return [each for each in found if _can_be_reached(each.address)]


def chosen(name: str | None, known: list[Interface] | None = None) -> Interface:
    """The one of that name or address; the only one where none is named.

    Raises  EvencastError listing them where there are several, or it is none of them
    """
    known = interfaces() if known is None else known
    listed = ", ".join(f"{each.name} ({each.address})" for each in known)
    if not known:
        raise EvencastError(
            "this machine is on no network",
            where="interface",
            remedy="Join the crew's network, or make one with a phone or a router; the internet "
            "is not needed.",
        )
    if name is None:
        if len(known) == 1:
            return known[0]
        raise EvencastError(
            f"this machine is on {len(known)} networks",
            where="interface",
            remedy=f"Name the crew's with --interface: {listed}.",
        )
    for each in known:
        if name in (each.name, each.address):
            return each
    raise EvencastError("is no network of this machine", where=name, remedy=f"There is {listed}.")


def _by_name() -> list[Interface]:
    """As the system names them; empty where it cannot be asked."""
    ask = _ASK_ADDRESS.get(sys.platform)
    if ask is None:
        return []
    from fcntl import ioctl

    found = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        for _, name in socket.if_nameindex():
            with suppress(OSError):  # without an address
                told = ioctl(asking.fileno(), ask, struct.pack("256s", name.encode()[:15]))
                found.append(Interface(name, socket.inet_ntoa(told[20:24])))
    return found


def _by_host_name() -> list[str]:
    with suppress(OSError):
        return sorted(set(socket.gethostbyname_ex(socket.gethostname())[2]))
    return []


def _can_be_reached(address: str) -> bool:
    with suppress(AddressValueError):
        ip = IPv4Address(address)
        return not (ip.is_loopback or ip.is_unspecified or ip.is_multicast)
    return False
