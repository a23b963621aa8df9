"""The doors of the engine: plain dicts in, plain dicts out, the same for the server and the phone.

Names and units are those of the REST API. A request that breaks a documented rule raises RuleBroken,
with one of the names in RULES.
"""

from .aimed import aimed
from .answer import call
from .exact import flight, geometry
from .live import replay, review
from .rules import RULES
from .stock import stock

__all__ = ["RULES", "aimed", "call", "flight", "geometry", "replay", "review", "stock"]
