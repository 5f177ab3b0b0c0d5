"""The same module in a browser: every example's run, step by step, as in this process."""

import base64

import numpy as np
import pytest

from circuit.sim import engines, machine
from circuit.sim.run import job_of
from tests.designs import sampled
from tests.sim.test_engines import ALL, braking

HOST = """async ([code, image, arrays, room, method, tolerance, size, at]) => {
  const bytes = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const memory = new WebAssembly.Memory({initial: Math.ceil(size / 65536) + 1});
  const {instance} = await WebAssembly.instantiate(bytes(code), {host: {memory}});
  new Uint8Array(memory.buffer).set(bytes(image));
  const status = instance.exports.integrate(arrays, room, method, tolerance);
  const view = new DataView(memory.buffer);
  const count = view.getInt32(at.records, true) * at.wide;
  const row = view.getInt32(at.record, true);
  return [status, Array.from({length: count}, (_, n) => view.getFloat64(row + 8 * n, true))];
}"""


def in_browser(page, job):
    at = engines.image_of(job)
    places = {name: at.room + machine.ROOM.fields[name].place for name in ("records", "record")}
    status, numbers = page.evaluate(HOST, [
        base64.b64encode(machine.binary()).decode(), base64.b64encode(bytes(at.data)).decode(), at.arrays, at.room,
        at.method, job.tolerance, at.size, {**places, "wide": 1 + 2 * job.arrays.watching}])
    return status, np.array(numbers).reshape(-1, 1 + 2 * job.arrays.watching)


@pytest.fixture
def blank(running):
    """An empty page."""
    found = running.new_page()
    yield found
    found.close()


@pytest.mark.parametrize("name", sampled(ALL, 5))
def test_a_browser_runs_the_same_module(name, blank):
    """Times, pressures and rates to the last digit."""
    job = job_of(braking(name), engines.choose("compiled"))
    ours = engines.choose("compiled").integrate(job)
    status, theirs = in_browser(blank, job)
    assert status == ours.status and len(theirs) == len(ours.times)
    assert np.array_equal(theirs[:, 0], np.array(ours.times))
    assert np.abs(theirs[:, 1:1 + job.arrays.watching] - np.array(ours.pressures)).max() == 0.0
