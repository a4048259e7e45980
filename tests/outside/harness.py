"""Runs the real binary on a source and reads back what it wrote.

LAPFELL names the binary; the examples are built once a session, by conftest.py.
"""

import json
import os
import pathlib
import subprocess

ROOT = pathlib.Path(__file__).resolve().parents[2]
BINARY = os.environ.get("LAPFELL", str(ROOT / "target" / "release" / "lapfell"))


def run(*arguments, stdin=None, cwd=ROOT):
    """The finished process of one command."""
    return subprocess.run([BINARY, *map(str, arguments)], input=stdin, capture_output=True, text=True, cwd=cwd, timeout=120)


def build(source, out, *options):
    """Builds a source file into a folder and returns {size folder name: resolved geometry}."""
    done = run("build", source, "--out", out, *options)
    assert done.returncode == 0, done.stderr
    return resolved(out)


def build_text(text, folder, *options):
    """Builds source text in a folder of its own."""
    folder.mkdir(parents=True, exist_ok=True)
    source = folder / "given.fell"
    source.write_text(text, encoding="utf-8")
    return build(source, folder / "out", *options)


def resolved(out):
    """Every resolved geometry below a folder, by its path."""
    found = {}
    for path in sorted(pathlib.Path(out).rglob("*.json")):
        data = json.loads(path.read_text(encoding="utf-8"))
        if isinstance(data, dict) and "provenance" in data and "pieces" in data:
            found[path] = data
    assert found, f"no resolved geometry below {out}"
    return found


def fact(design, name):
    """The number behind a name, in base units."""
    for entry in design["provenance"]["facts"]:
        if entry["name"] == name:
            return design["provenance"]["nodes"][entry["why"]]["number"]
    raise KeyError(name)


#: The least that is a whole design, for sources that only work out figures.
FRAME = """
design figures {{
  material plain_cloth is cloth "Plain cloth" {{ mass = 50 g/m2  width = 150 cm  source = "memory" }}
  panel square {{
    cut 1 of plain_cloth
    shape {{
      start (0 mm, 0 mm)
      edge foot  line to (100 mm, 0 mm)
      edge right line to (100 mm, 100 mm)
      edge head  line to (0 mm, 100 mm)
      edge left  line to start
    }}
    allow 0 mm
    raw foot, right, head, left because "a sample square"
  }}
  step look inspect "Look at the square"
  accept unused-constant because "only the figures matter here"
{items}
}}
"""
