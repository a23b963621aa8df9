"""A second program for match logs: slow, obvious, and sharing nothing with the engine.

It is written straight from the description of the events, in plain dictionaries and lists, and counts again
from the start of the set whatever can be counted again. It exists to be compared with the engine.

    profiles      the rule profiles, as a table
    ordering      which events stand, and in which order
    notes         violations and contradictions
    sides         six places, who stands in them, who sets
    score         who has won the set, the sets, the match
    changes       substitutions and liberos
    sets          how sets and the match start and end
    records       rallies, their records, the parts of a serve
    results       how a rally ends, and what is checked then
    wrong_server  what a wrong server costs
    fold          one event after the other
    report        what comes back
    scorer, generator, shrinking   random logs, and the shortest one that fails
"""

from slow_match.report import replay

__all__ = ["replay"]
