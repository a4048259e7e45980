"""Times the release binary: against the plain script, over many sizes, and over many declarations.

Usage: run.py (with shapely and ezdxf installed; LAPFELL names the binary). Prints a table; asserts nothing.

Files are written to memory where the system has a folder for that: what a disk takes to make sixty files says nothing of
either program, and varies tenfold with what it did in the minutes before.
"""

import os
import pathlib
import statistics
import sys
import tempfile
import time

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[1]
BINARY = os.environ.get("LAPFELL", str(ROOT / "target" / "release" / "lapfell"))
QUILT = ROOT / "examples" / "top_quilt" / "top_quilt.fell"


MEMORY = pathlib.Path("/dev/shm")
QUIET = [(os.POSIX_SPAWN_OPEN, stream, os.devnull, os.O_WRONLY, 0) for stream in (1, 2)]


def timed(command, times=15):
    """The median wall time of a whole process, in seconds; `{}` in the command is the number of the run."""
    taken = []
    for run in range(times):
        words = [str(c).replace("{}", str(run)) for c in command]
        start = time.perf_counter()
        child = os.posix_spawn(words[0], words, os.environ, file_actions=QUIET)
        _, status = os.waitpid(child, 0)
        taken.append(time.perf_counter() - start)
        if status != 0:
            sys.exit(f"{' '.join(words)} failed")
    return statistics.median(taken)


def row(what, seconds, note=""):
    print(f"{what:<58} {seconds * 1000:>10.1f} ms   {note}")


def many_sizes(folder, count):
    """The quilt with so many named sizes more, materials beside it."""
    text = QUILT.read_text(encoding="utf-8")
    sizes = "\n".join(f"  size s{i} {{ stature = {155 + i % 45} cm  girth = {95 + i % 30}.{i % 10} cm }}" for i in range(count))
    (folder / "materials.fell").write_text((QUILT.parent / "materials.fell").read_text(encoding="utf-8"), encoding="utf-8")
    at = text.index("  size short")
    source = folder / f"sizes_{count}.fell"
    source.write_text(text[:at] + sizes + "\n" + text[at:], encoding="utf-8")
    return source


def many_declarations(folder, count):
    """A design of so many `let`s, each made of the one before."""
    lines = ["  let a0 = 1 mm"] + [f"  let a{i} = when a{i - 1} > 1 m then 1 mm else a{i - 1} + {i % 7} mm" for i in range(1, count)]
    source = folder / f"lets_{count}.fell"
    body = "\n".join(lines)
    source.write_text(
        f"""use std.shapes {{ rectangle }}
use std.cloths {{ sack_cloth }}
use std.finishes {{ rolled_hem }}
design many {{
{body}
  panel mat {{
    cut 1 of sack_cloth
    shape rectangle(width: 30 cm + a{count - 1}, height: 40 cm)
    finish foot, right, head, left with rolled_hem()
  }}
}}
""",
        encoding="utf-8",
    )
    return source


with tempfile.TemporaryDirectory(dir=MEMORY if MEMORY.is_dir() else None) as name:
    folder = pathlib.Path(name)
    plain = timed([sys.executable, HERE / "plain.py", folder / "plain{}"])
    ours = timed([BINARY, "build", QUILT, "--out", folder / "quilt{}"])
    again = timed([BINARY, "build", QUILT, "--out", folder / "quilt0"])
    row("plain script: 4 sizes of the quilt, the same drawings", plain)
    row("lapfell build: the same 4 sizes, every output, new folder", ours, f"{plain / ours:.0f} times faster")
    row("lapfell build: the same again, nothing changed", again, f"{plain / again:.0f} times faster")
    checked = timed([BINARY, "check", QUILT])
    row("lapfell check: the same 4 sizes", checked)
    taken = {}
    for count in (100, 1000):
        taken[count] = timed([BINARY, "check", many_sizes(folder, count)], 3)
        row(f"lapfell check: the quilt in {count} sizes", taken[count])
    print(f"{'1,000 sizes over 100':<58} {taken[1000] / taken[100]:>10.2f} times")
    for count in (100, 1000):
        out = folder / f"out{count}"
        taken[count] = timed([BINARY, "build", many_sizes(folder, count), "--out", out], 1)
        row(f"lapfell build: the quilt in {count} sizes, every output", taken[count])
    print(f"{'1,000 sizes over 100':<58} {taken[1000] / taken[100]:>10.2f} times")
    for count in (10_000, 20_000):
        taken[count] = timed([BINARY, "check", many_declarations(folder, count)], 3)
        row(f"lapfell check: {count} declarations", taken[count])
    print(f"{'20,000 declarations over 10,000':<58} {taken[20_000] / taken[10_000]:>10.2f} times")
