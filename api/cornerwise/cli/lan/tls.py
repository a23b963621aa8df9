"""gunicorn's TLS, for phones that fall silent: they leave the network, or connect ahead and ask nothing.

Each such connection would keep one thread waiting for good. Here it ends after some seconds without a byte,
as if the phone had closed it; a phone that is still there connects again and nobody notices. gunicorn reads
this module as its configuration.
"""

from __future__ import annotations

import errno
import ssl
from collections.abc import Callable
from typing import Any

READ_PATIENCE_S = 5.0  # chosen: as long as gunicorn waits for a connection's first byte
SEND_PATIENCE_S = 60.0  # chosen: the app's first download goes on after a gap in a gym's network


class PhoneSocket(ssl.SSLSocket):
    """A connection on which silence is the end."""

    def setblocking(self, flag: bool) -> None:
        self.settimeout(READ_PATIENCE_S if flag else 0.0)

    def do_handshake(self, block: bool = False) -> None:
        self.setblocking(True)
        try:
            super().do_handshake(block)
        except TimeoutError:
            raise ssl.SSLEOFError(ssl.SSL_ERROR_EOF, "no handshake came") from None

    def recv(self, buflen: int = 1024, flags: int = 0) -> bytes:
        try:
            return super().recv(buflen, flags)
        except TimeoutError:
            return b""

    def send(self, data: Any, flags: int = 0) -> int:
        self.settimeout(SEND_PATIENCE_S)
        try:
            return super().send(data, flags)
        except TimeoutError:
            raise BrokenPipeError(errno.EPIPE, "the phone takes nothing more") from None
        finally:
            self.setblocking(True)


def ssl_context(_: object, usual: Callable[[], ssl.SSLContext]) -> ssl.SSLContext:
    """Return gunicorn's usual context, with connections that end when a phone falls silent."""
    context = usual()
    context.sslsocket_class = PhoneSocket
    return context
