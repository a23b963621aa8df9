"""What the OpenAPI document says about signing in: the ways in, and for each operation who may."""

from __future__ import annotations

from typing import Any

from apispec import APISpec, BasePlugin

from .rights import PREFIX, RIGHTS

WAYS_IN = {
    "cookie": {
        "type": "apiKey",
        "in": "cookie",
        "name": "cornerwise",
        "description": "From POST /api/v1/session or /api/v1/join; with HTTPS its name begins with "
        "`__Host-`. Changes by cookie are taken from the app's own pages only (Sec-Fetch-Site, else Origin).",
    },
    "bearer": {"type": "http", "scheme": "bearer", "description": "From POST /api/v1/tokens, for scripts."},
}
SAYS = {"server": "a server view", "assistant": "an assistant", "coach": "a coach"}


class Rights(BasePlugin):
    """Writes the table of rights into the document."""

    def operation_helper(
        self, path: str | None = None, operations: dict[str, Any] | None = None, **_: Any
    ) -> None:
        for method, said in (operations or {}).items():
            least = RIGHTS.get(f"{method.upper()} {(path or '').removeprefix(PREFIX)}")
            if least is None or least == "open":
                said["security"] = []
                continue
            said["security"] = [{way: []} for way in WAYS_IN]
            said["description"] = f"{said.get('description', '')}\n\nLeast role: {SAYS[least]}.".strip()
            for status, name in (("401", "UNAUTHORIZED"), ("403", "FORBIDDEN")):
                said.setdefault("responses", {}).setdefault(
                    status, {"$ref": f"#/components/responses/{name}"}
                )


def name_ways_in(spec: APISpec) -> None:
    for name, way in WAYS_IN.items():
        spec.components.security_scheme(name, way)
