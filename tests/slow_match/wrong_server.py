"""A wrong server, called at the service or found after the rally."""

from slow_match import sides
from slow_match.notes import breach, contradict
from slow_match.records import decided, record_for
from slow_match.results import checks, decide, first_result, give_serve
from slow_match.score import OTHER


def wrong_server_called(world, event, fields):
    """The referee says that a side served out of order."""
    at_fault, other = fields["side"], OTHER[fields["side"]]
    at_service = fields["found"] == "at_service"
    record = record_for(world, event) if at_service else None
    if at_service and not first_result(world, event, record, "wrong_server"):
        return
    if at_service:
        checks(world, event)
    breach(world, event, "wrong_server", "7.7", at_fault, None)
    if at_service and world["serving"] == other:
        contradict(world, event, "other_side_serves", at_fault, other, at_fault)

    rallies, from_rally = decided(world), fields["from_rally"]
    last = rallies[-1] if rallies else None
    served_last = last is not None and last["before"]["serving"] == at_fault
    paid = (
        not at_service
        and served_last
        and last["winner"] == other
        and (from_rally is None or from_rally <= last["rally_number"])
    )
    takes_back = True
    if world["profile"]["wrong_server"] == "since_fault":
        loses = [r for r in rallies if from_rally is not None and r["rally_number"] >= from_rally]
    else:
        takes_back = at_service or served_last
        loses = [r for r in term_of(rallies, at_fault) if r["rally_number"] >= (from_rally or 0)]
    if at_service:
        decide(world, record, "wrong_server", other)
    if takes_back:
        for lost in loses:
            if lost["winner"] == at_fault and not lost["cancelled"]:
                lost["cancelled"] = True
                world["points"][at_fault] = max(0, world["points"][at_fault] - 1)
        if not paid:
            world["points"][other] += 1
            give_serve(world, other)
    if fields["right_server"] is not None:
        if sides.in_order(world["sides"][at_fault], fields["right_server"]):
            sides.turn_to_serve(world["sides"][at_fault], fields["right_server"])
        else:
            contradict(world, event, "not_on_court", at_fault, None, fields["right_server"])


def term_of(rallies, name):
    """The unbroken run of rallies served by a side at the end of the list."""
    run = []
    for record in reversed(rallies):
        if record["before"]["serving"] != name:
            break
        run.append(record)
    return run
