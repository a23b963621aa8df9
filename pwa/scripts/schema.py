"""Write the API's types, as its OpenAPI document has them, into pwa/src/api/schema.ts.

    python pwa/scripts/schema.py     after every change of the API

The app's own names for them are in pwa/src/api/types.ts.
"""

from __future__ import annotations

import subprocess
from pathlib import Path

from cornerwise.app import create_app

PWA = Path(__file__).resolve().parents[1]
SCHEMA = PWA / "src" / "api" / "schema.ts"
GENERATOR = PWA / "node_modules" / "openapi-typescript" / "bin" / "cli.js"


def document() -> str:
    """Return the API's OpenAPI document, as it is served."""
    return create_app().test_client().get("/api/openapi.json").get_data(as_text=True)


def types() -> str:
    """Return the types of the document, in TypeScript; raise CalledProcessError if it cannot be read."""
    command = ["node", GENERATOR, "--immutable", "--alphabetize"]
    made = subprocess.run(command, input=document(), capture_output=True, text=True, check=True)
    return made.stdout


if __name__ == "__main__":
    SCHEMA.write_text(types())
