"""The address at which others in the same network reach this machine."""

import ipaddress
import socket

NOBODY = ("192.0.2.1", 9)  # An address kept for documentation. Source: RFC 5737, section 3.
EVERY = "0.0.0.0"  # noqa: S104 - what people type to be reached at every address


class NoAddressError(Exception):
    """This machine is in no network."""


def is_open_to_network(host: str) -> bool:
    """Whether who listens on *host* is reached from other machines."""
    if host == "localhost":
        return False
    try:
        return not ipaddress.ip_address(host).is_loopback
    except ValueError:
        return True


def reached_at(host: str) -> str:
    """Give what others type to reach who listens on *host*: for EVERY, this machine's own address.

    Raises NoAddressError.
    """
    return own_address() if host == EVERY else host


def own_address() -> str:
    """Return the address of this machine that leads out. Raises NoAddressError.

    Nothing is sent: a datagram socket is only asked where it would send from.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(NOBODY)
        except OSError as error:
            hint = "This machine is in no network. Name its address: --host ADDRESS."
            raise NoAddressError(hint) from error
        return str(asked.getsockname()[0])
