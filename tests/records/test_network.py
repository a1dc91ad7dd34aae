"""Which address the phones come in by: one of a private network, and of this machine."""

import socket
from contextlib import closing

import pytest

from gudgeon.quantities import Refused
from gudgeon.records import network


@pytest.mark.parametrize(
    ("address", "local"),
    [
        # The private ranges of RFC 1918 at their ends, and link-local of RFC 3927.
        ("10.0.0.0", True),
        ("10.255.255.255", True),
        ("172.16.0.1", True),
        ("172.31.255.255", True),
        ("192.168.0.1", True),
        ("169.254.10.1", True),
        ("172.32.0.1", False),
        ("192.169.0.1", False),
        ("8.8.8.8", False),
        ("127.0.0.1", False),
        ("0.0.0.0", False),  # noqa: S104  every network at once is what must not be had
        ("255.255.255.255", False),
        ("::1", False),
        ("fe80::1", False),
        ("localhost", False),
        ("", False),
    ],
)
def test_what_counts_as_an_address_of_a_local_network(address: str, local: bool) -> None:
    assert network.is_local(address) is local


def test_the_addresses_found_can_be_bound_and_the_usual_one_is_first() -> None:
    found = network.candidates()
    usual = network.default_address()
    assert usual == "" or not network.is_local(usual) or found[0] == usual
    for address in found:
        with closing(socket.socket()) as trial:
            trial.bind((address, 0))
        assert network.chosen(address) == address


@pytest.mark.parametrize("wanted", ["0.0.0.0", "127.0.0.1", "8.8.8.8", "10.99.99.99", "bench.local"])  # noqa: S104  refused
def test_an_address_that_is_not_ours_or_not_local_is_refused_in_a_sentence(wanted: str) -> None:
    said = r"^“.*” is (no address of a local network|not an address of this machine); allowed here: "
    with pytest.raises(Refused, match=said):
        network.chosen(wanted)
