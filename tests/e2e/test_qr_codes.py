"""The codes of the app and those of an independent maker: the same modules, and read all the same."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest
import segno

from event_fields import OUT, table

PWA = Path(__file__).resolve().parents[2] / "pwa"
VERSION, LEVEL, SIGNS = 13, "l", 619  # ISO/IEC 18004, table 7: alphanumeric, 13-L
ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

NODE = """
import { encodeQR } from "qr";
import { decodeQR } from "qr/decode.js";
const asked = JSON.parse(await new Response(process.stdin).text());
const picture = (rows, scale) => {
  const width = rows.length * scale, data = new Uint8ClampedArray(4 * width * width).fill(255);
  for (let y = 0; y < width; y += 1) for (let x = 0; x < width; x += 1)
    if (rows[Math.floor(y / scale)][Math.floor(x / scale)])
      data.fill(0, 4 * (y * width + x), 4 * (y * width + x) + 3);
  return { width, height: width, data };
};
console.log(JSON.stringify(asked.map(({ text, mask, rows }) => ({
  made: encodeQR(text, "raw", { encoding: "alphanumeric", version: 13, ecc: "low", border: 4, mask }),
  read: decodeQR(picture(rows, 3)),
}))));
"""


@pytest.fixture(scope="module")
def both() -> list[tuple[str, list[list[bool]], dict]]:
    """For each mask a full code: its text, its modules by segno, and what the app's library says."""
    texts = ["CW1:" + "".join(ALPHABET[(i * (mask + 3)) % 45] for i in range(SIGNS - 4)) for mask in range(8)]
    made = []
    for mask, text in enumerate(texts):
        code = segno.make(
            text, version=VERSION, error=LEVEL, mask=mask, mode="alphanumeric", boost_error=False
        )
        made.append([[bool(module) for module in row] for row in code.matrix_iter(border=4)])
    asked = [
        {"text": t, "mask": mask, "rows": rows}
        for mask, (t, rows) in enumerate(zip(texts, made, strict=True))
    ]
    command = ["node", "--input-type=module", "-e", NODE]
    said = subprocess.run(
        command, cwd=PWA, input=json.dumps(asked), capture_output=True, text=True, check=True
    )
    return list(zip(texts, made, json.loads(said.stdout), strict=True))


def test_a_code_has_the_modules_that_an_independent_maker_gives_it(both):
    for _, modules, said in both:
        assert len(modules) == 69 + 8
        assert said["made"] == modules


def test_a_code_of_an_independent_maker_is_read(both):
    for text, _, said in both:
        assert said["read"] == text


def test_the_table_of_event_fields_is_the_engines():
    assert OUT.read_text() == table(), "run: python pwa/scripts/event_fields.py"
