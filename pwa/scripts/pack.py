"""Byte-compile Python sources into a zip that the device imports from. Run by `pack.mjs`, inside Pyodide.

The same sources always give the same bytes: order, dates and the seed of hashes are fixed.
"""

from __future__ import annotations

import importlib.util
import zipfile
from collections.abc import Iterable, Mapping
from importlib._bootstrap_external import _code_to_hash_pyc

LONG_AGO = (1980, 1, 1, 0, 0, 0)


def pack(sources: Mapping[str, bytes], mount: str, target: str) -> None:
    """Write a zip of modules. sources : by their path in the zip. mount : where the device keeps that zip"""
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as out:
        for name in sorted(sources):
            data, into = compiled(sources[name], f"{mount}/{name}"), name + "c"
            out.writestr(zipfile.ZipInfo(into, LONG_AGO), data, zipfile.ZIP_DEFLATED)


def compiled(source: bytes, shown_as: str) -> bytes:
    """Return a module as the import system keeps it, told not to look for its source."""
    code = compile(source, shown_as, "exec", dont_inherit=True, optimize=0)
    return bytes(_code_to_hash_pyc(code, importlib.util.source_hash(source), False))


def kept(path: str, wanted: Iterable[str]) -> dict[str, bytes]:
    """Return the wanted modules of a zip of sources: whole packages, or single modules by their path."""
    source = zipfile.ZipFile(path)
    names = set(wanted)

    def is_wanted(name: str) -> bool:
        parts = name.removesuffix(".py").split("/")
        return any("/".join(parts[:n]) in names for n in range(1, len(parts) + 1))

    every = [name for name in source.namelist() if name.endswith(".py")]
    return {name: source.read(name) for name in every if is_wanted(name)}
