"""Which engine carries a run out, and what a user is told before a compiler works."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from circuit.sim import engines
from tests.outside import library
from tests.sim.designs import EXAMPLES

ROOT = Path(__file__).resolve().parents[2]
PLAY = """
import sys
from circuit.sim import Script, Variant, press, engines, simulate, simulate_many
from tests.sim.designs import example
engines.MAKING, engines.MANY, engines.Plain.records = {making}, {many}, 32
class Built(Exception): pass
def build(self): raise Built
engines.Compiled.__init__ = build
script = Script((press("foot", 1.0, 0.0),))
try:
    if {variants}:
        simulate_many(example("teaching-board"), script, [Variant(str(n)) for n in range({variants})], 0.05)
    else:
        print("steps", simulate(example("teaching-board"), script, 0.5).steps)
except Built:
    print("compiler called")
"""


def played(tmp_path, making=10**6, many=50, variants=0, **environment):
    """What a process without compiled code on disk says and does; the compiler itself is kept from working."""
    return subprocess.run(
        [sys.executable, "-c", PLAY.format(making=making, many=many, variants=variants)], cwd=ROOT, text=True,
        capture_output=True, check=True, timeout=60,
        env={**os.environ, "NUMBA_CACHE_DIR": str(tmp_path), "AIRWRIGHT_PLAIN": "", **environment})


def test_a_small_job_does_not_wait_for_a_compiler(tmp_path):
    library("numba")
    small = played(tmp_path)
    assert small.stdout.startswith("steps ") and small.stderr == ""


@pytest.mark.parametrize("asked", [{"making": 500}, {"many": 4, "variants": 5}], ids=["long", "many"])
def test_a_user_is_told_before_the_compiler_works(tmp_path, asked):
    library("numba")
    large = played(tmp_path, **asked)
    assert large.stdout == "compiler called\n"
    assert large.stderr.startswith("airwright: compiling the simulation, once for this machine")


def test_the_compiler_can_be_kept_out(tmp_path):
    kept_out = played(tmp_path, making=500, AIRWRIGHT_PLAIN="1")
    assert kept_out.stdout.startswith("steps ") and kept_out.stderr == ""


def test_an_engine_that_is_none():
    with pytest.raises(ValueError, match="there is no engine `steam`"):
        engines.choose("steam")


def test_the_balance_is_printed_on_request():
    """In words and for other programs; what came in, less what went, is what is held more, but for roundings."""
    import json

    command = [sys.executable, "-m", "circuit", "run", str(EXAMPLES / "truck-6x4" / "design.air"), "--balance"]
    said = subprocess.run(command, cwd=ROOT, text=True, capture_output=True, timeout=60).stdout
    assert "Air balance, g: predicted" in said and "with the accuracy asked for" in said
    data = json.loads(subprocess.run([*command, "--json"], cwd=ROOT, text=True, capture_output=True, timeout=60).stdout)
    assert [row["run"] for row in data["balance"]] == ["full-application", "primary-lost"]
    for row in data["balance"]:
        assert row["first"] - row["vented"] + row["made"] + row["fed"] == pytest.approx(row["last"], abs=1e-12)
        assert row["vented"] > 0.01 and abs(row["drift"]) < 1e-12
