"""The HTTP side: one blueprint for each resource, strict bodies, problem+json errors, and the PWA."""
