"""The steps of a record: each reading against a simulation of the same step that is put together here by itself."""

from functools import cache

import pytest

from circuit.declaring.traits import Trait
from circuit.report.sheets.cautions import SPRINGS
from circuit.report.sheets.step_record import places, step_record
from circuit.sim import Engine, Options, Script, feed, press, pull, release, simulate, uncouple
from circuit.studies import steps
from circuit.studies.hands import CannotAsk
from circuit.studies.steps import HOLD, SETTLES, played
from circuit.units import to_si
from circuit.verdict.judge import judge
from tests.designs import example_names, loaded
from tests.studies.examples import ATMOSPHERE, PSI, example

QUICK = Options(exponent=1.2)
NEAR = 1e3
"""Pa by which two ways of playing a step may differ."""
PRINTED = 0.06 * PSI
"""Pa that the last printed digit leaves open."""


@cache
def sheet(name):
    return step_record(judge(example(name), example(name).rule_sets))


def of(record, key):
    return next(step for step in record.steps if step.key == key)


def read(cell):
    """Absolute Pa of `113.5 psi (7.83 bar)`."""
    return to_si(cell.split(" (")[0], "pressure")


def stored(circuit, record):
    """What every space has before the pedal goes down, by place."""
    step = of(record, "apply")
    ports = {space: next(key for key in keys if not circuit.by_name[key[0]].is_line)
             for space, keys in circuit.ports_of.items() if space in record.trace.node
             and any(not circuit.by_name[name].is_line for name, _ in keys)}
    return {".".join(port): record.before(step, space) for space, port in ports.items()}


def by_itself(circuit, record):
    """(step, trace, s) of the steps with brakes, played from what is stored before them."""
    pressures, controls = stored(circuit, record), circuit.having(Trait.PARK_CONTROL)
    if circuit.is_towed:
        heads = {head.settings["line"]: head.name for head in circuit.having(Trait.COUPLES_VEHICLES)
                 if head.settings["end"] == "front"}
        full = ATMOSPHERE + 100 * PSI
        pressures[f"{heads['supply']}.1"] = pressures[heads["supply"]] = full
        actions = [feed(heads["control"], full, 0.0, conductance=6.3e-8), feed(heads["control"], ATMOSPHERE, HOLD),
                   feed(heads["supply"], ATMOSPHERE, 2 * HOLD)]
    else:
        foot = next(name for name in circuit.by_name if name.rpartition(".")[2] == "foot")
        actions = [press(foot, 1.0, 0.0), release(foot, HOLD)]
    actions += [pull(device.name, 2 * HOLD) for device in controls]
    rested = {(governor.name, "unloading"): 1.0 for governor in circuit.having(Trait.GOVERNS)}
    script = Script(tuple(actions), pressures=pressures, states=rested)
    trace = simulate(circuit, script, 3 * HOLD, options=QUICK)
    keys = {step.key for step in record.steps}
    return [(of(record, key), trace, time) for key, time in (("apply", HOLD), ("release", 2 * HOLD), ("park", 3 * HOLD))
            if key in keys]


TRIED = ("truck-6x4", "semitrailer-single", "city-bus", "converter-dolly")


@pytest.mark.parametrize("name", [
    pytest.param(name, marks=() if name in TRIED else pytest.mark.slow) for name in example_names()])
def test_each_row_is_what_the_same_step_gives_by_itself(name):
    circuit, record = example(name), played(example(name))
    assert record.trace.complete
    spaces = {place.name: place.space for place in places(judge(circuit, circuit.rule_sets))}
    seen = 0
    for step, trace, time in by_itself(circuit, record):
        for row in (row for row in sheet(name).rows if row[0] == step.key and "moving" not in row[6]):
            space, seen = spaces[row[2]], seen + 1
            assert record.after(step, space) == pytest.approx(trace.pressure(space, time), abs=NEAR), (step.key, row[2])
            assert read(row[5]) == pytest.approx(record.after(step, space), abs=PRINTED)
            assert read(row[4]) == pytest.approx(record.before(step, space), abs=PRINTED)
    assert seen >= 2


@pytest.mark.parametrize("name", ["truck-6x4", "city-bus", "combination-semi"])
def test_the_first_step_is_what_filling_by_itself_gives(name):
    circuit, record = example(name), played(example(name))
    out = {(d.name, v): 0.0 for d in circuit.having(Trait.PARK_CONTROL) for v in d.kind.when["parked"]}
    trace = simulate(circuit, Script(states=out), 600.0, start="empty", engine=Engine(True), options=QUICK)
    stops = next(event.time for event in trace.events if event.variable == "unloading" and event.value)
    step = of(record, "charge")
    assert step.reads == pytest.approx(stops + SETTLES, abs=0.01)
    for tank in circuit.reservoirs:
        assert record.after(step, circuit.store(tank)) == pytest.approx(trace.pressure(tank.name, step.reads), abs=NEAR)


def test_the_truck_beside_a_trial_with_as_much_in_every_reservoir():
    """8.6 bar everywhere, as a trial in the design may start: the record has 8.5 behind its check valves, and falls alike."""
    circuit = example("truck-6x4")
    start = ATMOSPHERE + 8.6e5
    script = Script((press("foot", 1.0, 0.0),), pressures={"reservoirs": start})
    trial = simulate(circuit, script, HOLD, options=QUICK)
    seen = {"pri": 115.3, "sec": 117.2, "front-left": 115.8, "d1-left.can.11": 112.3, "d1-left.can.12": 110.9}
    for place, psi in seen.items():
        assert (trial.last(place) - ATMOSPHERE) / PSI == pytest.approx(psi, abs=NEAR / PSI), place
    rows = {row[2]: row for row in sheet("truck-6x4").rows if row[0] == "apply"}
    for place, name in (("pri", "pri-gauge"), ("sec", "sec-gauge")):
        begins, ends = read(rows[name][4]), read(rows[name][5])
        assert 0 < start - begins < 0.2e5 and begins - ends == pytest.approx(start - trial.last(place), abs=0.5 * PSI)


def test_the_reservoirs_are_full_before_the_brakes():
    for name in ("truck-6x4", "combination-semi", "truck-europe", "teaching-board"):
        record = played(example(name))
        assert record.rests
        switched = [event for event in record.trace.events if event.variable == "unloading" and event.time > 0]
        first, drive = of(record, "charge"), of(record, "drive")
        assert [event.value for event in switched if event.time <= first.reads] == [1.0]
        later = [event for event in switched if first.reads < event.time <= drive.reads]
        assert [event.value for event in later] == [0.0, 1.0] and later[-1].time == pytest.approx(drive.reads - SETTLES, abs=0.05)


def test_what_still_takes_air_is_said_to_move():
    record = played(example("tyre-inflation"))
    assert not record.rests and "not full and at rest" in sheet("tyre-inflation").notes[0]
    truck = played(example("truck-6x4"))
    purge = example("truck-6x4").by_name["purge-tank"]
    assert truck.moves(of(truck, "charge"), example("truck-6x4").store(purge))
    assert "purge-tank" not in [row[2] for row in sheet("truck-6x4").rows]


def test_springs_that_come_on_are_told_in_their_rows():
    done = {row[0]: row[1] for row in sheet("truck-6x4").rows}
    assert {step for step, words in done.items() if words.endswith(SPRINGS)} == {"warning", "pop-out", "park", "leak-down"}
    board = {row[1] for row in sheet("teaching-board").rows}
    assert board and not any(SPRINGS in words for words in board)
    semi = {row[0]: row[1] for row in sheet("semitrailer-tandem").rows}
    assert semi["park"].endswith(SPRINGS) and semi["separation"].endswith(SPRINGS) and SPRINGS not in semi["apply"]


def test_a_parted_line_starts_from_full_reservoirs():
    circuit = example("tractor-6x4")
    (line,) = steps.parted(circuit)
    full = {tank.name: played(circuit).after(of(played(circuit), "drive"), circuit.store(tank)) for tank in circuit.reservoirs}
    trace = simulate(circuit, Script((uncouple("supply-head", 0.0),), pressures=full), steps.PARTED, options=QUICK)
    rows = [row for row in sheet("tractor-6x4").rows if row[0] == "separation"]
    assert {row[2] for row in rows} >= {"pri-gauge", "sec-gauge"} and "engine off" in rows[0][1]
    for tank in ("pri", "sec"):
        assert line.after(line.steps[0], circuit.store(circuit.by_name[tank])) == pytest.approx(trace.last(tank), abs=1.0)


def test_without_a_compressor_or_a_pedal_no_step_is_predicted():
    bare = loaded("vehicle x: class truck\nreservoir tank: volume 9 L, rated 9 bar, role service\ngauge dial: on tank\n")
    with pytest.raises(CannotAsk, match="no compressor"):
        played(bare)
    table = step_record(judge(bare))
    assert table.notes[0].startswith("No step is predicted: there is no compressor")
    assert not [row for row in table.rows if row[0] in ("charge", "apply")]
