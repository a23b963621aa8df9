"""The match: a log of what happened, and everything that follows from it.

`reading` turns plain objects into entries, `order` drops what was retracted and puts entries in game
order, `fold` applies one after the other to a `MatchState`, `report` turns a state into plain objects. A
log is never refused: what breaks the rules or contradicts itself comes back beside the state.
Modules, each using only those above it:

    row  terms  profiles  events  notes  state  rotation  score  referee  serve  rally  wrong_server
    substitution  libero  lineup  opening  closing  scorer  fold  order  replaying  situation
    readers  profile_reading  shapes  reading  documenting  report  logbook
"""

from cornerwise.engine.match.fold import evolve
from cornerwise.engine.match.order import standing
from cornerwise.engine.match.reading import format_entry, parse_entry, parse_log
from cornerwise.engine.match.replaying import carried_on, replay, snapshot
from cornerwise.engine.match.report import replay_request, report

__all__ = [
    "carried_on",
    "evolve",
    "format_entry",
    "parse_entry",
    "parse_log",
    "replay",
    "replay_request",
    "report",
    "snapshot",
    "standing",
]
