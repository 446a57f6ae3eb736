"""The address at which others in the same network reach this machine."""

import ipaddress
import socket

# Documentation's own network: nobody is there. Source: RFC 5737, section 3; RFC 3849.
NOBODY = {socket.AF_INET: "192.0.2.1", socket.AF_INET6: "2001:db8::1"}
PORT = 9


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
    """Give what others type to reach who listens on *host*, as it stands in an address.

    That is *host* itself, or for every address (0.0.0.0, ::) the one of this machine that leads
    out. Nothing is sent for it: a datagram socket is only asked where it would send from.
    Raises NoAddressError.
    """
    try:
        address = ipaddress.ip_address(host)
    except ValueError:
        return host
    if address.is_unspecified:
        address = ipaddress.ip_address(own_address())
    return f"[{address}]" if address.version == 6 else str(address)


def own_address() -> str:
    """Give this machine's own address, the older kind first. Raises NoAddressError."""
    for family, nobody in NOBODY.items():
        with socket.socket(family, socket.SOCK_DGRAM) as asked:
            try:
                asked.connect((nobody, PORT))
            except OSError:
                continue
            found = asked.getsockname()[0]
        if is_open_to_network(found):
            return str(found)
    raise NoAddressError("This machine is in no network. Name its address: --host ADDRESS.")
