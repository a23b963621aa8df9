"""The rule profiles, one column each."""

NAMES = ["fivb_2025_2028", "fivb_2021_2024", "us_college_women", "us_high_school", "us_junior_club"]

ROWS = {
    "sets_to_win": [3, 3, 3, 3, 2],
    "points": [25, 25, 25, 25, 25],
    "deciding_points": [15, 15, 15, 15, 15],
    "lead": [2, 2, 2, 2, 2],
    "cap": [None, None, None, None, None],
    "deciding_cap": [None, None, None, None, None],
    "starting_points": [0, 0, 0, 0, 0],
    "deciding_starting_points": [0, 0, 0, 0, 0],
    "substitutions_per_set": [6, 6, 15, 18, 12],
    "re_entry": ["once", "once", "same_place", "same_place", "same_place"],
    "time_outs_per_set": [2, 2, 2, 2, 2],
    "time_out_s": [30, 30, 75, 60, 30],
    "liberos": [2, 2, 2, 1, 2],
    "libero_may_serve": [False, False, True, True, True],
    "libero_exchange_to_serve": [False, False, True, True, True],
    "seconds_to_serve": [8, 8, 8, 5, 8],
    "serve_again": [False, False, False, True, False],
    "side_change_points": [8, 8, 8, None, 8],
    "overlap_applies_to": ["receiving_only", "both", "both", "both", "both"],
    "wrong_server": ["since_fault", "since_fault", "this_term", "this_term", "this_term"],
    "verify": [False, False, True, True, True],
}


def profile_of(value):
    """The profile that a name, an object with changed fields, or nothing stands for."""
    changes = dict(value) if isinstance(value, dict) else {"name": value or "fivb_2025_2028"}
    name = changes["name"]
    column = NAMES.index("fivb_2025_2028" if name == "custom" else name)
    profile = {field: row[column] for field, row in ROWS.items()}
    return profile | changes
