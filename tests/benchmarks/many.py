"""A repository of designs as a reviewer has it, made by script: `python tests/benchmarks/many.py FOLDER [N]`.

Variants of the examples by five builders: lengths changed, some with a part left out, some cut off, some loosened. With a
policy, and, where the folder is given on the command line, with its CI run: text, SARIF and Markdown beside the designs.
"""

import random
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
NAMES = ("truck-6x4", "truck-europe", "teaching-board", "semitrailer-tandem", "semitrailer-single", "converter-dolly",
         "tractor-6x4", "semitrailer-old")
BUILDERS = "abcde"
POLICY = """\
# What the reviewers of these designs ask of each, whoever built it.
rules = ["us-federal"]
fail-on = "warning"

[waivers]
most = 3
never = ["circuits-not-separate"]
"""


def make(folder: Path, number: int = 300) -> None:
    """Writes so many designs, the same ones each time."""
    chance = random.Random(300)
    texts = {name: (ROOT / "examples" / name / "design.air").read_text(encoding="utf-8") for name in NAMES}
    for place in range(number):
        name = NAMES[place // len(BUILDERS) % len(NAMES)]
        path = folder / BUILDERS[place % len(BUILDERS)] / f"{name}-{place:03}.air"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(variant(texts[name], place, chance), encoding="utf-8")


def variant(text: str, place: int, chance: random.Random) -> str:
    """A design with other lengths; every sixth has a slip, every thirtieth cannot be read."""
    def longer(found: re.Match[str]) -> str:
        return f"length {float(found[1]) * chance.uniform(0.9, 1.05):.2f} m"

    text = re.sub(r"length (\d+(?:\.\d+)?) m", longer, text)
    rows = text.split("\n")
    if place % 30 == 7:
        return "\n".join(rows[: len(rows) // 2]) + "\ntube pri ->\n"
    if place % 6 == 1:
        drains = [row for row in rows if row.startswith(("drain ", "gauge "))]
        rows.remove(chance.choice(drains))
    return "\n".join(rows)


def main() -> None:
    folder = Path(sys.argv[1])
    make(folder / "designs", int(sys.argv[2]) if len(sys.argv) > 2 else 300)
    (folder / "airwright.toml").write_text(POLICY, encoding="utf-8")
    for kind, name in (("short", "check.txt"), ("sarif", "airwright.sarif"), ("markdown", "summary.md")):
        done = subprocess.run([sys.executable, "-m", "circuit", "check", str(folder / "designs"), "--format", kind, "--quiet"],
                              cwd=ROOT, capture_output=True, text=True)
        (folder / name).write_text(done.stdout, encoding="utf-8")
        last = done.stdout.rstrip().splitlines()[-1][:120]
        print(f"{folder / name}: exit {done.returncode}, {len(done.stdout) // 1024} KB; {last}", flush=True)


if __name__ == "__main__":
    main()
