"""Make the app's table of the fields of each event anew, from the engine's shapes.

python pwa/scripts/event_fields.py
"""

from __future__ import annotations

import json
from pathlib import Path

from cornerwise.engine.match.reading import ENVELOPE, SEEN
from cornerwise.engine.match.shapes import PARTS, SHAPES

OUT = Path(__file__).resolve().parents[1] / "src" / "sync" / "event-fields.ts"
HEAD = """/** Made by pwa/scripts/event_fields.py from the engine's shapes: do not edit. */

export interface Fields { readonly required: readonly string[]; readonly optional: readonly string[] }

"""


def table() -> str:
    """Return the file's text."""
    fields = {
        name: {
            "required": [*ENVELOPE, "type", *shape.required],
            "optional": [*SEEN, *dict.fromkeys([*shape.optional, *(PARTS if shape.parts else ())])],
        }
        for name, shape in SHAPES.items()
    }
    rows = "".join(f"  {json.dumps(name)}: {json.dumps(of)},\n" for name, of in fields.items())
    return f"{HEAD}export const EVENT_FIELDS: Readonly<Record<string, Fields>> = {{\n{rows}}};\n"


if __name__ == "__main__":
    OUT.write_text(table())
