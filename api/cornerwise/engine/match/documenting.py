"""What the events of a log look like, as JSON Schema: made of the tables that read them."""

from __future__ import annotations

from typing import Any

from cornerwise.engine.match.readers import Schema, object_schema
from cornerwise.engine.match.reading import ENVELOPE, SEEN
from cornerwise.engine.match.shapes import PARTS, SHAPES, Shape


def event_schemas() -> dict[str, Schema]:
    """Return the schema of each type of event by the name of its class, and of any event as "Event".

    What a schema cannot say is refused by a rule all the same: `RULES` has them.
    """
    named = {shape.event.__name__: event_schema(name, shape) for name, shape in SHAPES.items()}
    return {**named, "Event": union()}


def event_schema(name: str, shape: Shape) -> Schema:
    """Return the schema of one type of event: who logged it and where it belongs, its type, its fields."""
    required, optional = {**ENVELOPE, **shape.required}, {**SEEN, **shape.all_optional}
    optional = {field: reader for field, reader in optional.items() if field not in required}
    schema = object_schema(required, optional)
    properties = {"type": {"type": "string", "const": name}, **schema["properties"]}
    words = {"description": description(shape)}
    return {**schema, **words, "properties": properties, "required": ["type", *schema["required"]]}


def description(shape: Shape) -> str:
    """Return what an event is for, as its class says, and what its schema leaves out."""
    said = (shape.event.__doc__ or "").split("\n")[0]
    if said.startswith(shape.event.__name__):  # a dataclass without words of its own
        said = ""
    if shape.something:
        said = f"{said} At least one of {', '.join(shape.all_optional)} is given.".strip()
    elif shape.parts:
        said = f"{said} With any of what is known of the serve: {', '.join(PARTS)}.".strip()
    return said or shape.event.__name__


def union() -> dict[str, Any]:
    """Return the schema of any event: one of all types, told apart by `type`."""
    references = {name: f"#/components/schemas/{shape.event.__name__}" for name, shape in SHAPES.items()}
    return {
        "oneOf": [{"$ref": reference} for reference in references.values()],
        "discriminator": {"propertyName": "type", "mapping": references},
    }
