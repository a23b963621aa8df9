"""/api/v1/devices: let in by a code, listed, revoked, and what a revoked one still sent"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Response, g, request

from cornerwise.service import devices as service

from .account_schemas import (
    AcceptedAnswer,
    CodeAnswer,
    CodeRequest,
    DevicesAnswer,
    DiscardedAnswer,
    HeldAnswer,
)
from .parsing import StrictBlueprint

devices = StrictBlueprint("devices", __name__, description="The club's phones, tablets and browsers")


@devices.get("/devices")
@devices.response(200, DevicesAnswer)
def index() -> dict[str, Any]:
    """List the devices that are signed in, joined, or were revoked."""
    return service.devices(g.who)


@devices.post("/devices/codes")
@devices.body(CodeRequest, {"role": "assistant"})
@devices.response(201, CodeAnswer)
@devices.alt_response(409, "CONFLICT")
@devices.of_a_match
def new_code(body: dict[str, Any]) -> dict[str, Any]:
    """Make a code that lets one device in, once, for ten minutes."""
    made = service.new_join_code(g.who, body["role"], body.get("team"), body.get("match"))
    path = f"/join#{made['code']}"  # what stands behind # is never sent: no log on the way holds it
    return {**made, "path": path, "address": request.host_url.rstrip("/") + path}


@devices.delete("/devices/<uuid:device_id>")
@devices.response(204)
@devices.alt_response(404, "NOT_FOUND")
def revoke(device_id: UUID) -> Response:
    """Revoke a device: at its next contact it is refused, and what it logged until then is held."""
    service.revoke(g.who.club, str(device_id))
    return Response(status=204)


@devices.get("/devices/<uuid:device_id>/held")
@devices.response(200, HeldAnswer)
@devices.alt_response(404, "NOT_FOUND")
def held(device_id: UUID) -> dict[str, Any]:
    """Show what a revoked device sent."""
    return service.held(g.who.club, str(device_id))


@devices.post("/devices/<uuid:device_id>/held/accept")
@devices.response(200, AcceptedAnswer)
@devices.alt_response(404, "NOT_FOUND")
def accept(device_id: UUID) -> dict[str, Any]:
    """Take what a revoked device sent into its matches. What cannot be taken stays held."""
    return service.accept(g.who.club, str(device_id))


@devices.delete("/devices/<uuid:device_id>/held")
@devices.response(200, DiscardedAnswer)
@devices.alt_response(404, "NOT_FOUND")
def discard(device_id: UUID) -> dict[str, Any]:
    """Discard what a revoked device sent, for good."""
    return {"discarded": service.discard(g.who.club, str(device_id))}
