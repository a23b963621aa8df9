"""Every rule that a request can break, by name."""

from __future__ import annotations

from cornerwise.engine.match.readers import RULES as MATCH_RULES
from cornerwise.engine.reception import RULES as RECEPTION_RULES

RULES: dict[str, str] = {
    "degenerate_geometry": "The landing is none of the other three places: without a way there is no angle.",
    "setter_unknown": (
        "One way to know the setter is needed: opponent.setter_position or opponent.setter_start."
    ),
    "spot_outside_service_zone": (
        "A server stands behind the line she serves from, within 4.5 m of the middle and the 3 m of free"
        " zone (FIVB 1.4.2, 12.4.3)."
    ),
    "contact_past_net": "The ball is hit on the server's own side of the net.",
    "target_outside_court": (
        "Where passes should go, and where a serve should land, lies in the receivers' court, lines included."
    ),
    "out_of_reach": (
        "At least one pace must carry the ball over the net into the court, to the target if one is given."
    ),
    "same_pose": "In a team's code no two spots, no two zones and no two depths have the same pose.",
    **RECEPTION_RULES,
    **MATCH_RULES,
}
"""Rule name: one sentence."""
