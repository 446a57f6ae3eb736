"""Small servers on this machine that stand for others' name servers and websites."""

import socket
import ssl
import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

import dns.flags
import dns.message
import dns.rcode
import dns.resolver
import dns.rrset


@contextmanager
def name_server(texts: Mapping[str, list[str]], *, silent: bool = False) -> Iterator:
    """Return a resolver that knows the TXT records in *texts* and no other name."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as here:
        here.bind(("127.0.0.1", 0))
        answering = threading.Thread(target=serve_names, args=(here, texts, silent), daemon=True)
        answering.start()
        resolver = dns.resolver.Resolver(configure=False)
        resolver.nameservers, resolver.port = ["127.0.0.1"], here.getsockname()[1]
        yield resolver
        here.sendto(b"stop", here.getsockname())
        answering.join()


def serve_names(here: socket.socket, texts: Mapping[str, list[str]], silent: bool) -> None:
    """Answer questions until told to stop; a *silent* server takes them and says nothing."""
    while (asked := here.recvfrom(4096))[0] != b"stop":
        if silent:
            continue
        question = dns.message.from_wire(asked[0])
        name, kind = question.question[0].name, question.question[0].rdtype
        answer = dns.message.make_response(question)
        found = texts.get(name.to_text(omit_final_dot=True))
        if found is None:
            answer.set_rcode(dns.rcode.NXDOMAIN)
        elif kind == dns.rdatatype.TXT and found:
            quoted = [f'"{text}"' for text in found]
            answer.answer.append(dns.rrset.from_text(name, 60, "IN", "TXT", *quoted))
        here.sendto(answer.to_wire(), asked[1])


@contextmanager
def website(certificate) -> Iterator[int]:
    """Return the port of a server on this machine that shows *certificate* to whoever connects."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    certificate.configure_cert(context)
    with socket.create_server(("127.0.0.1", 0)) as here:
        showing = threading.Thread(target=show_once, args=(here, context), daemon=True)
        showing.start()
        yield here.getsockname()[1]
        showing.join()


def show_once(here: socket.socket, context: ssl.SSLContext) -> None:
    """Shake hands with one visitor, who may not like what is shown."""
    plain, _where = here.accept()
    with plain:
        try:
            context.wrap_socket(plain, server_side=True).close()
        except (ssl.SSLError, OSError):
            return
