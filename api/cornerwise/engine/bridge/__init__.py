"""The doors of the engine: plain dicts in, plain dicts out, the same for the server and the phone.

Names and units are those of the REST API. A request that breaks a documented rule raises RuleBroken,
with one of the names in RULES.
"""

from .aimed import aimed
from .answer import call
from .book import book, corners
from .chosen import chosen
from .exact import flight, geometry
from .formation import copied, formation
from .live import replay, review, serves
from .roster import prepared
from .rules import RULES
from .stock import stock

__all__ = [
    "RULES",
    "aimed",
    "book",
    "call",
    "chosen",
    "copied",
    "corners",
    "flight",
    "formation",
    "geometry",
    "prepared",
    "replay",
    "review",
    "serves",
    "stock",
]
