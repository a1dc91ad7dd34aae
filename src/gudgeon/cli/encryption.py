"""Encrypted connections for the phones, where the builder has a certificate."""

import ssl
import threading
import time
from pathlib import Path
from typing import Any

from waitress.channel import HTTPChannel

from gudgeon.quantities import Refused


def encryption(certificate: Path, key: Path) -> ssl.SSLContext:
    """What the certificate and its key make possible; TLS 1.2 and newer."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    try:
        context.load_cert_chain(certificate, key, password=_no_password)
    except (OSError, ValueError) as error:  # a certificate that does not fit is an OSError too
        raise Refused(
            f"The certificate {certificate.name} and the key {key.name} cannot be used together: both have "
            f"to be PEM files, the key without a password ({getattr(error, 'reason', None) or error})."
        ) from error
    return context


def _no_password() -> str:
    raise ValueError("the key asks for a password")


class EncryptedChannel(HTTPChannel):  # type: ignore[misc]  # waitress has no types
    """One connection, encrypted. waitress reads and writes when the socket is ready; so does this.

    Reading is the loop's, writing may be a worker's, and one connection's state is not for both at once:
    hence the lock. The handshake happens within the first reads.
    """

    context: ssl.SSLContext

    def __init__(self, server: Any, sock: Any, addr: Any, adj: Any, map: Any = None) -> None:  # noqa: A002  waitress names it so
        self._one_at_a_time = threading.Lock()
        sock.setblocking(False)
        wrapped = self.context.wrap_socket(sock, server_side=True, do_handshake_on_connect=False)
        super().__init__(server, wrapped, addr, adj, map=map)

    def handle_read(self) -> None:
        """Take what has come, and what the encryption still holds though the socket is empty."""
        more = True
        while more:
            try:
                with self._one_at_a_time:
                    data = self.socket.recv(self.adj.recv_bytes)
                    more = bool(data) and self.socket.pending() > 0
            except (ssl.SSLWantReadError, ssl.SSLWantWriteError):
                return
            except OSError:  # a plain connection knocking, or one that broke off
                self.handle_close()
                return
            if not data:
                self.handle_close()
                return
            self.last_activity = time.time()
            self.received(data)

    def send(self, data: bytes, do_close: bool = True) -> int:
        """Send what goes out now; the rest follows when the socket takes it."""
        try:
            with self._one_at_a_time:
                return int(self.socket.send(data))
        except (ssl.SSLWantReadError, ssl.SSLWantWriteError):
            return 0
        except OSError:
            if do_close:
                self.handle_close()
            return 0


def encrypted_channels(context: ssl.SSLContext) -> type[EncryptedChannel]:
    """The kind of connection that uses this certificate."""
    return type("EncryptedWithCertificate", (EncryptedChannel,), {"context": context})
