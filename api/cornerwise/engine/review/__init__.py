"""What a match's log says about its serves: counts and shares, each with the number it rests on.

`serves` picks the serves that count and puts them into serving turns, `rows` counts a group of them,
`tables` lays the groups out, `sentence` says what stands out, `chart` gives the course of each set. Counts
only: nothing is estimated here.
"""

from cornerwise.engine.review.serves import SERVE_COLUMNS, flat_serves
from cornerwise.engine.review.tables import review

__all__ = ["SERVE_COLUMNS", "flat_serves", "review"]
