"""The addresses of this machine on the networks around it."""

from __future__ import annotations

import fcntl
import socket
import struct
import sys
from collections.abc import Iterable, Iterator
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network

Address = IPv4Address | IPv6Address

# What no site on the internet can have: RFC 1122, 1918, 2544, 3927, 5737, 6598, 4193. Some virtual machines
# and hotspots use the ranges of 2544, 5737 and 6598. Link-local IPv6 is left out: no browser opens it.
PRIVATE = (
    *map(ip_network, ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "100.64.0.0/10")),
    *map(ip_network, ("198.18.0.0/15", "192.0.2.0/24", "198.51.100.0/24", "203.0.113.0/24")),
    *map(ip_network, ("127.0.0.0/8", "::1/128", "fc00::/7")),
)
SIOCGIFADDR = 0xC0206921 if sys.platform == "darwin" else 0x8915  # from net/if.h: an interface's IPv4 address
FAR_AWAY = ("10.255.255.255", "192.0.2.1", "fc00::1", "2001:db8::1")  # nothing is sent there


def is_private(address: Address) -> bool:
    """Return whether an address can only be on a network of one's own."""
    return any(address in network for network in PRIVATE)


def private_addresses() -> tuple[Address, ...]:
    """Return this machine's own private addresses without loopback, IPv4 first; empty on no network."""
    return chosen([*_of_interfaces(), *_of_routes(), *_of_name()])


def chosen(found: Iterable[str]) -> tuple[Address, ...]:
    """Return the private ones among addresses, each once, IPv4 first, loopback left out."""
    addresses = {ip_address(text.partition("%")[0]) for text in found}
    fit = (address for address in addresses if is_private(address) and not address.is_loopback)
    return tuple(sorted(fit, key=lambda address: (address.version, address)))


def _of_interfaces() -> Iterator[str]:
    """Yield one IPv4 address of each interface: also of a hotspot, to which no route leads."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        for _, name in socket.if_nameindex():
            try:
                answer = fcntl.ioctl(probe, SIOCGIFADDR, struct.pack("256s", name.encode()[:15]))
            except OSError:
                continue  # an interface without an address
            yield socket.inet_ntoa(answer[20:24])


def _of_routes() -> Iterator[str]:
    """Yield the addresses from which this machine would talk to others."""
    for there in FAR_AWAY:
        family = socket.AF_INET6 if ":" in there else socket.AF_INET
        try:
            with socket.socket(family, socket.SOCK_DGRAM) as probe:
                probe.connect((there, 9))
                yield probe.getsockname()[0]
        except OSError:
            continue  # no such route


def _of_name() -> Iterator[str]:
    """Yield the addresses that this machine's own name stands for."""
    try:
        for *_, address in socket.getaddrinfo(socket.gethostname(), None, type=socket.SOCK_DGRAM):
            yield str(address[0])
    except OSError:
        return


def local_name() -> str:
    """Return this machine's name on the network around it (RFC 6762): `laptop.local`."""
    label = "".join(c if c.isascii() and (c.isalnum() or c == "-") else "-" for c in _first_label())
    return f"{label.strip('-')[:63].lower() or 'laptop'}.local"


def _first_label() -> str:
    return socket.gethostname().partition(".")[0]


def at(address: Address | str) -> str:
    """Return an address or a name as it stands in a URL."""
    return f"[{address}]" if isinstance(address, IPv6Address) else str(address)
