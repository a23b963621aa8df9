"""What a match's log says about its serves: counts and shares, each with the number it rests on.

`serves` picks the serves that count and puts them into serving turns, `rows` counts a group of them,
`tables` lays the groups out, `sentence` says what stands out, `chart` gives the course of each set, `table`
writes the serves one a line for a spreadsheet. Counts only: nothing is estimated here.
"""

from cornerwise.engine.review.table import cell, serves_table
from cornerwise.engine.review.tables import review

__all__ = ["cell", "review", "serves_table"]
