"""Every passage of every part as the page has it at the moments of its scenes, against what its kind declares."""

from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.sim.sums import variables
from circuit.units import ATMOSPHERE

NEAR = 300.0
"""Pa of opening within which a seat may be drawn either way: it is just leaving or reaching its place."""
SCENES = """async () => { const found = [];
  for (const scene of board.given.prepared) {
    await playScene(scene);
    halt();
    for (let n = 0; n < 40; n++) {
      await goOn(n % 8 ? 0.07 : scene.pace * 0.4);
      found.push(Object.fromEntries(Object.keys(data.parts).map((name) => [name, board.part(name)])));
    }
  }
  return found; }"""


def wrong(page, circuit: Circuit) -> list[str]:
    """Passages that are drawn open and declared shut, or the reverse, over all scenes."""
    moments = page.evaluate(SCENES)
    assert moments
    return [f"{device.name} {passage.start}>{passage.end}" for moment in moments for device in circuit.devices
            if not device.is_line for place, passage in enumerate(device.kind.passages)
            if passage.opening is not None and _differs(circuit, device, place, moment[device.name])]


def _differs(circuit: Circuit, device: Device, place: int, told: dict) -> bool:  # type: ignore[type-arg]
    passage = device.kind.passages[place]
    assert passage.opening is not None
    pressures = {}
    for port in device.kind.ports:
        space = circuit.space.get((device.name, port.number), SPACE_OUTSIDE)
        pressures[port.number] = ATMOSPHERE + (0.0 if space == SPACE_OUTSIDE else 1e3 * told["pressures"][port.number])
    settings = dict(device.settings)
    if "stands open" in told["states"]:
        settings["state"] = "open" if told["states"]["stands open"] else "shut"
    states = {name: told["states"].get(name, 0.0) for name in variables(device)}
    opening = passage.opening(pressures, settings, states)
    drawn = told["openings"][place]
    return bool(opening > NEAR and drawn == 0.0 and told["pushes"][place] is not None
                and pressures.get(passage.start, ATMOSPHERE) > pressures.get(passage.end, ATMOSPHERE) + 1e3) \
        or bool(opening < -NEAR and drawn > 0.0)
