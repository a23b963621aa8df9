"""The score: who has won the set, the sets, the match."""

SIDES = ("us", "them")
OTHER = {"us": "them", "them": "us"}


def deciding(world):
    """Whether the present set is the deciding one."""
    return world["set_number"] == 2 * world["profile"]["sets_to_win"] - 1


def of_this_set(world, field):
    """A field of the profile that the deciding set has its own of."""
    return world["profile"]["deciding_" + field if deciding(world) else field]


def won_by_score(world, points):
    """The side that has won the present set at these points, or None."""
    for side in SIDES:
        mine, theirs = points[side], points[OTHER[side]]
        if mine >= of_this_set(world, "points") and mine - theirs >= world["profile"]["lead"]:
            return side
        cap = of_this_set(world, "cap")
        if cap is not None and mine >= cap and mine > theirs:
            return side
    return None


def ahead(points):
    """The side with more points, or None."""
    return next((side for side in SIDES if points[side] > points[OTHER[side]]), None)


def set_over(world):
    """Whether the present set is over, by the referee or by the score."""
    if world["set_number"] == 0:
        return False
    return world["referee"] is not None or won_by_score(world, world["points"]) is not None


def set_winner(world):
    """Who has won the present set, or None."""
    if not set_over(world):
        return None
    if world["referee"] is not None:
        return world["referee"]["winner"]
    return won_by_score(world, world["points"])


def sets_won(world):
    """Sets of both sides, the present one included when it is over."""
    if world["sets_given"] is not None:
        return dict(world["sets_given"])
    sets = dict(world["sets_before"])
    if set_winner(world) is not None:
        sets[set_winner(world)] += 1
    return sets


def has_the_sets(world):
    """The side that has won the match by sets, or None."""
    sets = sets_won(world)
    return next((side for side in SIDES if sets[side] >= world["profile"]["sets_to_win"]), None)


def match_over(world):
    """Whether the match is over in any way."""
    return world["end"] is not None or has_the_sets(world) is not None


def rule_of_set(world):
    """The rule about winning the present set."""
    return "6.3.2" if deciding(world) else "6.2"
