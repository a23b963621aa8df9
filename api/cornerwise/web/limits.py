"""How often somebody may try: counted in this process, or in Redis where LIMITS_URL says so.

With the embedded counting each worker process counts for itself, so with N of them it is up to N times as
many.
"""

from __future__ import annotations

import math
import time
from ipaddress import IPv6Address, ip_address

from flask import Flask, current_app, request
from limits import parse
from limits.storage import storage_from_string
from limits.strategies import MovingWindowRateLimiter
from werkzeug.exceptions import TooManyRequests

PER_ADDRESS = parse("30 per 10 minutes")  # chosen: a team behind one address in the hall joins at once
HOST_BITS = 64
PER_ACCOUNT = parse("10 per 10 minutes")  # chosen: ten forgotten passwords, and a guesser gets 1,440 a day


def count_tries(app: Flask, url: str) -> None:
    app.extensions["tries"] = MovingWindowRateLimiter(storage_from_string(url))


def limit_tries(what: str, account: str | None = None) -> None:
    """Count a try; refuse it (429) when there were too many from this address, or of this account."""
    tries: MovingWindowRateLimiter = current_app.extensions["tries"]
    for limit, key in ((PER_ADDRESS, household(request.remote_addr)), (PER_ACCOUNT, account)):
        if key is not None and not tries.hit(limit, what, key):
            again = max(1, math.ceil(tries.get_window_stats(limit, what, key).reset_time - time.time()))
            raise TooManyRequests(f"too many tries: wait {again} seconds", retry_after=again)


def household(address: str | None) -> str | None:
    """Return what counts as one address: of IPv6 the network of 64 bits that one customer has to choose from
    (RFC 6177), so that nobody gets new tries with each of its addresses."""
    try:
        read = ip_address(address or "")
    except ValueError:
        return address
    if not isinstance(read, IPv6Address):
        return str(read)
    if read.ipv4_mapped:
        return str(read.ipv4_mapped)
    return str(IPv6Address(int(read) >> HOST_BITS << HOST_BITS))
