"""What stands beside a fault: what is noticed, what to do, how fast a leak is, which clauses ask of it."""

import pytest

from circuit.faults.outcome import outcomes
from circuit.report.faults.noticing import NOTHING, SAID, do_now, leaking, mends, notices
from circuit.report.faults.outcome_rows import asked_of
from circuit.sim import Engine, Script, Variant, simulate_many
from circuit.verdict.clause_of_fault import held_to
from tests.faults.studied import effect_of, study_of

TRUCK = "truck-6x4"


def found(fault: str, name: str = TRUCK):
    (one,) = outcomes(study_of(name), [effect_of(name, fault)])
    return one


@pytest.mark.parametrize(("fault", "words"), [
    ("pri: burst", ("pri-warning lights and the buzzer sounds", "pri-gauge falls", "air blows out", "stops less")),
    ("sec: leaks", ("sec-warning lights", "sec-gauge falls", "a hiss")),
    ("front-left: overstroked", ("it pulls to the right when braking (front)",)),
    ("front-right: rod seized", ("it pulls to the left when braking (front)",)),
    ("d1-left.can: return spring broken", ("drive-1 does not roll free afterwards, and grows hot",)),
    ("park: does not pop", ("parked on a slope it creeps",)),
    ("gov: stuck loaded", ("the gauges go past cut-out, then a safety valve blows",)),
    ("gov: set high", ("the gauges go past cut-out",)),
    ("gov: set low", ("the gauges come to no more than 6.9 bar",)),
    ("pri-check: stuck shut", ("pri-gauge falls with each stop and does not come up again",)),
    ("tube dryer.21 -> wet: blocked", ("do not come up again; a safety valve blows",)),
    ("pump: dead", ("pri-gauge and sec-gauge fall with each stop and do not come up again",)),
])
def test_what_the_driver_notices(fault: str, words: tuple[str, ...]):
    told = notices(study_of(TRUCK).circuit, [found(fault)]).replace("\u00a0", " ")
    assert all(word in told for word in words), told


def test_of_what_nobody_notices_nothing_is_made():
    circuit = study_of(TRUCK).circuit
    assert notices(circuit, [found("pri-check: stuck open")]) == NOTHING
    for fault in ("dryer: desiccant spent", "modulator: stuck feeding", "tube foot.21 -> rear-relay.4: crushed"):
        assert notices(circuit, [found(fault)]) == SAID
    assert notices(circuit, [found("pri-warning: stays on")]) == "only pri-warning itself, by whoever looks for it"


@pytest.mark.parametrize(("fault", "sound"), [
    ("tube compound-guard.2 -> spring-block: burst", "air blows out"),
    ("rear-left.can: spring diaphragm torn", "air blows out"),
    ("tube trunk: leaks", "a hiss"),
    ("front-left.can: centre seal leaks", "a hiss, perhaps at the exhaust of another part"),
    ("front-left.can: service diaphragm torn", "air blows out while the pedal is down"),
])
def test_what_holds_springs_off_is_heard_without_the_pedal(fault: str, sound: str):
    assert sound in notices(study_of("semitrailer-tandem").circuit, [found(fault, "semitrailer-tandem")]).split("; ")


def test_a_leak_is_a_rate_with_times_and_a_burst_is_none():
    """Against a run of its own: what is lost in the first minute, and when the switch closes."""
    leak, burst = found("sec: leaks"), found("sec: burst")
    assert burst.course is None and leak.course is not None and leak.course.springs is None
    circuit = study_of(TRUCK).circuit
    (trace,) = simulate_many(circuit, Script(), [Variant("", (("sec", "leaks"),))], 900.0, engine=Engine(False))
    assert leak.course.rate == pytest.approx(trace.pressure("sec", 0.0) - trace.pressure("sec", 60.0), rel=0.02)
    switch = circuit.by_name["sec-warning"]
    assert leak.course.warning == pytest.approx(trace.first_time("sec", switch.settings["on-below"], rising=False), rel=0.02)
    told = leaking([leak, burst], "bar").replace("\u00a0", " ")
    assert told.startswith("sec: leaks: 0.9 bar a minute at first, a warning after 5 min") and "burst" not in told


def test_what_to_do_and_what_mends_is_of_the_fault():
    circuit = study_of(TRUCK).circuit
    lost = found("park: leaks")
    assert "no service brake" in do_now(circuit, lost) and "nobody at the rods" in do_now(circuit, lost)
    assert mends(circuit, [found("d1-left.can: left caged")]) == "the spring brake chamber put back as it belongs"
    assert "a new line" in mends(circuit, [found("tube pri -> foot.11: burst")])
    assert do_now(circuit, found("lamp-shuttle: parked mid way")) == ""


def test_each_fault_says_which_clauses_ask_of_it():
    """The signal tube of a tractor that follows the pedal and draws on every reservoir breaks what the truck's keeps."""
    truck = study_of(TRUCK)
    held = held_to(truck, tuple(effect_of(TRUCK, name) for name in ("pri: burst", "foot: upper stuck shut")))
    assert "us-federal/S5.7.1" in held["pri: burst"].keeps and not held["pri: burst"].breaks
    assert not held["foot: upper stuck shut"].is_asked
    board = study_of("teaching-board")
    told = held_to(board, board.effects)
    assert any("us-federal/S5.7.1" in each.breaks for each in told.values())
    named = [effect for effect in board.effects if told[effect.fault.name].breaks]
    assert all(effect.braking < 0.7 or not effect.axles for effect in named)


def test_a_row_names_the_faults_that_a_clause_asks_of():
    truck = study_of(TRUCK)
    pair = [found("pri: burst"), found("foot: upper stuck shut")]
    told = asked_of(pair, held_to(truck, tuple(each.effect for each in pair)))
    assert "us-federal/S5.7.1 (by pri: burst)" in told and "no clause asks of foot: upper stuck shut" in told
    assert asked_of(pair[1:], held_to(truck, (pair[1].effect,))) == "no clause asks" and asked_of(pair, {}) == ""
