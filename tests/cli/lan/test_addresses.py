"""Where phones reach this machine, and under which name."""

from __future__ import annotations

import socket
from ipaddress import ip_address

import pytest
from cornerwise.cli.lan import addresses
from cornerwise.cli.lan.addresses import at, chosen, is_private, local_name, private_addresses


def test_private_addresses_are_chosen_each_once_and_ipv4_first():
    found = ["fd00::20", "192.168.1.20", "10.0.0.5", "192.168.1.20", "8.8.8.8", "127.0.0.1", "::1"]
    found += ["fe80::1%eth0", "2001:4860:4860::8888", "0.0.0.0"]
    assert chosen(found) == tuple(map(ip_address, ["10.0.0.5", "192.168.1.20", "fd00::20"]))


def test_every_interface_is_looked_at():
    assert "127.0.0.1" in list(addresses._of_interfaces())


def test_one_can_listen_at_every_address_that_is_found():
    for address in private_addresses():
        family = socket.AF_INET6 if address.version == 6 else socket.AF_INET
        socket.create_server((str(address), 0), family=family).close()


@pytest.mark.parametrize(
    ("address", "private"),
    [("172.16.0.1", True), ("172.32.0.1", False), ("172.20.10.1", True), ("9.255.255.255", False)],
)
def test_what_counts_as_private_ends_where_rfc_1918_ends_it(address, private):
    assert is_private(ip_address(address)) is private


@pytest.mark.parametrize(
    ("host", "name"),
    [
        ("Laptop", "laptop.local"),
        ("laptop.club.example", "laptop.local"),
        ("Coach's laptop", "coach-s-laptop.local"),
        ("", "laptop.local"),
    ],
)
def test_the_local_name_is_the_first_part_of_the_machines_own(monkeypatch, host, name):
    monkeypatch.setattr(socket, "gethostname", lambda: host)
    assert local_name() == name


def test_an_ipv6_address_stands_in_brackets_in_a_url():
    assert [at(ip_address("fd00::20")), at(ip_address("10.0.0.5"))] == ["[fd00::20]", "10.0.0.5"]
