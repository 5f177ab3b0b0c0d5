"""Settings as written to SI values: each dimension with figures worked by hand, and each slip with its sentence."""

import pytest

from circuit.mistake import Unreadable
from circuit.model.circuit import Circuit
from circuit.model.forms import ACTIONS, FORMS
from circuit.model.known_words import VOCABULARY
from circuit.units import ATMOSPHERE
from tests.designs import completed, loaded

PSI = 6894.757293168361
INCH = 0.0254
TWO = "reservoir a and b: volume 20 L, rated 10 bar, role service\n"


def circuit_of(rows: str) -> Circuit:
    return loaded(completed(rows))


def setting(statement: str, name: str) -> object:
    """A setting of the last thing of some rows, as the circuit has it."""
    return circuit_of(statement).devices[-1].settings[name]


def told(rows: str) -> list[tuple[int, str, str]]:
    """Column, words and remedy of each mistake."""
    with pytest.raises(Unreadable) as refused:
        circuit_of(rows)
    return [(m.at.column, m.says, m.expected) for m in refused.value.mistakes]


@pytest.mark.parametrize(("rows", "name", "value"), [
    ("reservoir t: volume 1400 in3, rated 10 bar, role service", "volume", 1400 * INCH**3),
    ("reservoir t: volume 20 L, rated 150 psi, role service", "rated", ATMOSPHERE + 150 * PSI),
    ("check-valve c: opens-at 3 psi", "opens-at", 3 * PSI),
    ("relay-valve r: deliveries 4", "deliveries", 4),
    ("compressor p: displacement 12 cfm", "displacement", 12 * 0.3048**3 / 60),
    ("compressor p: displacement 12 cfm, efficiency 80 %", "efficiency", 0.8),
    ("compressor p: displacement 12 cfm, speed 1500 rpm", "speed", 25.0),
    ("check-valve c: conductance 8 L/(s.bar)", "conductance", 8e-8),
    ("chamber c: type 20, stroke 2 1/4 in, axle front, side left", "stroke", 2.25 * INCH),
    ("chamber c: type 20, stroke 2 1/4 in, axle front, side LEFT", "side", "left"),
    ("chamber c: type 20, stroke 2 1/4 in, axle front, side left", "axle", "front"),
    ("chamber c: type 20, stroke 2 1/4 in, axle front, side left", "type", "20"),
    ('consumer c: use "a horn, loud"', "use", "a horn, loud"),
    (TWO + "hose a -> b: bore 13 mm, length 3 ft", "bore", 0.013),
    (TWO + "hose a -> b: bore 13 mm, length 3 ft", "length", 0.9144),
    (TWO + "tube a -> b: size 12x1.5, length 1 m", "size", 0.012),
    (TWO + "tube a -> b: size 12x1.5, length 1 m", "bore", 0.009),
    (TWO + "tube a -> b: size 10x1.25, length 1 m", "bore", 0.0075),
    (TWO + "tube a -> b: size 11x1.3, length 1 m", "bore", 0.0084),
    (TWO + "tube a -> b: size 11x1.3 mm, length 1 m", "size", 0.011),
    (TWO + "tube a -> b: size 1/2 in, length 1 m", "size", 0.5 * INCH),
])
def test_a_setting_is_read_to_si(rows: str, name: str, value: object):
    assert setting(rows, name) == (pytest.approx(value, rel=1e-9) if isinstance(value, float) else value)


@pytest.mark.parametrize(("size", "bore"), [("1/4", 0.170), ("3/8", 0.251), ("1/2", 0.376), ("5/8", 0.441)])
def test_trade_tubes_have_the_bore_of_their_standard(size: str, bore: float):
    """SAE J844 tubing, from memory: inside diameters in inches, to a hundredth of one."""
    assert setting(TWO + f"tube a -> b: size {size} in, length 1 m", "bore") == pytest.approx(bore * INCH, abs=0.01 * INCH)


def test_what_is_left_out_is_assumed_with_its_source():
    device = circuit_of("relay-valve relay: lap 0.3 bar").by_name["relay"]
    assert device.settings["opens-at"] == pytest.approx(0.25e5) and device.settings["deliveries"] == 2
    assert device.given["opens-at"].assumed and "common practice" in device.given["opens-at"].source
    written = device.given["lap"]
    assert not written.assumed and written.text == "0.3 bar" and written.span is not None and written.span.column == 20
    assert circuit_of(TWO).by_name["a"].settings["tested-to"] is None, "neither written nor typical"


SLIPS = [
    ("reservoir t: volume, rated 10 bar, role service", 14, "`volume` has no value",
     "write a volume, as in 20 L or 1400 in3 after it"),
    ("relay-valve r: deliveries", 16, "`deliveries` has no value", "write a whole number after it"),
    ("chamber c: type 20, stroke 2 in, axle front rear, side left", 45, "`axle` takes one value, and `rear` is a second one",
     "write a name, and a comma before the next setting"),
    ("chamber c: type 20, stroke 2 in, axle 1, side left", 39, "`axle` takes a name, not `1`", "write a name"),
    ("chamber c: type abc, stroke 2 in, axle front, side left", 17, "abc is no chamber type",
     "write the number alone, as in type 20, or 30/30 for a double chamber"),
    ("chamber c: type 20, stroke 2 in, axle front, side lift", 51, "`side` cannot be `lift`", "did you mean left?"),
    ("reservoir t: volume 20 psi, rated 10 bar, role service", 21, "volume 20 psi measures a pressure, and a volume is due",
     "write 20 L or 1400 in3"),
    ("drain tap: on 5 bar", 15, "`on` takes a name, not `5 bar`", "write a name or a port"),
    (TWO + "hose a -> b: bore wide, length 1 m", 19, "`wide` is not a bore", "write an inside diameter, as in 3/8 in or 13 mm"),
    (TWO + "hose a -> b: bore 0.1 mm, length 1 m", 19, "a bore of 0.1 mm is no air line",
     "write an inside diameter, as in 3/8 in or 13 mm"),
    (TWO + "tube a -> b: size 13/16 in, length 1 m", 19, "13/16 in is no trade size of tube", None),
    (TWO + "tube a -> b: size 50x2, length 1 m", 19, "50x2 is no trade size of tube", None),
    (TWO + "tube a -> b: size 12x0, length 1 m", 19, "12x0 is no trade size of tube", None),
    (TWO + "tube a -> b: size 12x1.5 in, length 1 m", 19, "12x1.5 in is no trade size of tube", None),
    (TWO + "tube a -> b: size 1/2 mm, length 1 m", 19, None, "write 1/2 in"),
    ("check-valve c: opens-at -1 psi", 25, "-1 psi is below nothing", None),
    ("check-valve c: conductance 0 L/(s.bar)", 28, "`conductance` cannot be nothing", None),
    ("tee t: holes 3", 8, "tee has no setting `holes`", "it takes no settings"),
    ("relay-valve r: zzz 3", 16, "relay-valve has no setting `zzz`",
     "its settings are opens-at, lap, supplies, deliveries, conductance"),
    ("circuit c: reservoirs and a", 23, "`and` does not belong in this list", "join names with `and`: front and rear"),
    (TWO + "circuit c: reservoirs a and", 25, "a name is missing after `and`", "write the last name, or remove the `and`"),
    (TWO + "circuit c: reservoirs a b", 25, "`b` does not belong in this list", "join names with `and`: front and rear"),
]


@pytest.mark.parametrize(("rows", "column", "says", "expected"), SLIPS, ids=[f"{slip[0][-40:]}" for slip in SLIPS])
def test_a_value_that_cannot_be_is_told_in_its_place(rows: str, column: int, says: str | None, expected: str | None):
    (found,) = told(rows)[:1]
    assert found == (column, says or found[1], expected or found[2])
    assert "write" in found[2] or "did you mean" in found[2] or "settings" in found[2] or "join" in found[2]


def test_a_missing_setting_is_asked_for_in_its_own_words():
    assert told("reservoir t: rated 10 bar, role service") == [
        (1, "reservoir needs `volume`: inside volume", "add `volume` and a volume, as in 20 L or 1400 in3")]
    assert told("consumer c") == [
        (1, "consumer needs `use`: what it is, in words", 'add `use` and a text between quotes, as in "left of the frame"')]
    slipped = told("reservoir t: volum 20 L, rated 10 bar, role service")
    assert [says for _, says, _ in slipped] == ["reservoir has no setting `volum`"], "what was meant is not asked for again"


def test_contradicting_settings_are_told_by_the_kind():
    (found,) = told("chamber c: type 20, stroke 1 in, axle front, side left")
    says = "`working-stroke` 1.5 in is not below `stroke` 1 in; `working-stroke` was taken as it is not written"
    assert found == (21, says,
                     "write `working-stroke` below 1 in, or `stroke` above 1.5 in")


# --- trials ----------------------------------------------------------------------------------------------------------

TRIAL = TWO + """relay-valve relay
foot-valve foot
trial t {
    start reservoirs: pressure 100 psi
    start foot: state up
    press foot: to 60 %, at 0.5 s
    feed relay.1: to 60 psi
    leak a: at 2 s, hole 3 mm
    expect a: pressure at most 5 psi, within 20 s
    expect b: pressure at least 60 psi, until 3 s
    expect relay: state on
}
"""


def test_a_trial_is_read_with_its_quantities():
    (trial,) = circuit_of(TRIAL).trials
    steps = {number: (step.action, step.names, {k: v for k, v in step.settings.items() if v is not None})
             for number, step in enumerate(trial.steps)}
    assert trial.name == "t"
    assert steps[0] == ("start", ("reservoirs",), {"pressure": pytest.approx(ATMOSPHERE + 100 * PSI)})
    assert steps[1] == ("start", ("foot",), {"state": "up"})
    assert steps[2] == ("press", ("foot",), {"to": ("fraction", pytest.approx(0.6)), "at": 0.5})
    assert steps[3] == ("feed", ("relay.1",), {"to": ("pressure", pytest.approx(ATMOSPHERE + 60 * PSI))})
    assert steps[4] == ("leak", ("a",), {"at": 2.0, "hole": pytest.approx(0.003)})
    assert steps[5] == ("expect", ("a",), {"pressure": ("most", pytest.approx(ATMOSPHERE + 5 * PSI)), "within": 20.0})
    assert steps[6] == ("expect", ("b",), {"pressure": ("least", pytest.approx(ATMOSPHERE + 60 * PSI)), "until": 3.0})
    assert steps[7] == ("expect", ("relay",), {"state": "on"})


@pytest.mark.parametrize(("step", "says", "expected"), [
    ("dance a", "a trial cannot `dance`", "it can " + ", ".join(ACTIONS)),
    ("pres foot: to 5 %", "a trial cannot `pres`", "did you mean press?"),
    ("press: to 60 %", "`press` needs a name", "write press NAME: ..."),
    ("expect a: within 2 s", "`expect` needs what to expect", "write pressure at least 60 psi, or state on"),
    ("expect a: pressure 60 psi", "`pressure` takes a bound here", "write at least 60 psi, or at most 5 psi"),
    ("expect a: pressure at best 60 psi", "`pressure` takes a bound here", "write at least 60 psi, or at most 5 psi"),
    ("expect a: pressure at least high", "`pressure` takes a bound here", "write at least 60 psi, or at most 5 psi"),
    ("press foot: to 3 m", "3 m is neither a share nor a pressure", "write 100 % or 60 psi"),
    ("press nobody: to 60 %", "nothing is called `nobody`", "write it down first, as KIND NAME: ..."),
])
def test_a_slip_in_a_trial(step: str, says: str, expected: str):
    assert (says, expected) in [(said, due) for _, said, due in told(TRIAL.replace("start foot: state up", step))]


def test_a_bound_in_a_wrong_unit_says_which_setting():
    (found,) = told(TRIAL.replace("at most 5 psi", "at most 5 L"))
    assert found[1].startswith("pressure 5 L") and found[0] == 32


# --- what a design says of itself ------------------------------------------------------------------------------------

SELF = """vehicle mine: class truck, title "My truck", tows yes, starts-at 7 bar, trailer-load 9 t
rules us-federal and un-r13
rules un-r13
axle front: position 1
axle mid and rear: position 2
reservoir pri: volume 20 L, rated 10 bar, role service
reservoir sec: volume 30 L, rated 10 bar, role service
circuit first: reservoirs pri and sec, axles front
circuit second: role parking
tube pri -> sec: size 1/2 in, length 1 m, name link
waive port-open: at link, because "closed later", by "me"
waive port-open: at first, because "x"
"""


def test_what_a_design_says_of_itself():
    circuit = loaded(SELF.replace("axle mid and rear: position 2", "axle mid: position 2\naxle rear: position 3"))
    vehicle = circuit.vehicle
    assert (vehicle.name, vehicle.vehicle_class, vehicle.title, vehicle.tows) == ("mine", "truck", "My truck", True)
    assert vehicle.declared["starts-at"] == pytest.approx(ATMOSPHERE + 7e5) and vehicle.declared["secondary-at"] is None
    assert vehicle.declared["trailer-load"] == pytest.approx(9000.0)
    assert circuit.rule_sets == ("us-federal", "un-r13"), "each once, in order"
    assert [(axle.name, axle.position) for axle in circuit.axles] == [("front", 1), ("mid", 2), ("rear", 3)]
    first, second = circuit.intents
    assert (first.name, first.role, first.reservoirs, first.axles) == ("first", "service", ("pri", "sec"), ("front",))
    assert (second.role, second.reservoirs, second.axles) == ("parking", (), ())
    one, other = circuit.waivers
    assert (one.rule, one.at, one.because, one.by) == ("port-open", "pri -> sec", "closed later", "me")
    assert (other.at, other.by) == ("first", "")
    assert circuit.tows and not circuit.is_towed and not circuit.is_combination
    bare = loaded("vehicle plain: class semi-trailer\n" + "axle one: position 1\n")
    assert bare.vehicle.title == "plain" and not bare.vehicle.tows and bare.is_towed and not bare.tows


def test_who_tows():
    head = "coupling-head red: line supply, end {}\n"
    for end, tows in (("rear", True), ("front", False)):
        assert loaded("vehicle x: class truck\naxle front: position 1\n" + head.format(end)).tows is tows
    assert loaded("vehicle x: class tractor\naxle front: position 1\n").tows
    assert loaded("vehicle x: class truck, tows yes\naxle front: position 1\n").tows
    assert not loaded("vehicle x: class truck\naxle front: position 1\n").tows


SAYINGS = [
    ("vehicle: class truck\naxle front: position 1\n", ["`vehicle` needs one name"]),
    ("vehicle a and b: class truck\naxle front: position 1\n", ["`vehicle` needs one name"]),
    (SELF, ["two axles stand at position 2"]),
    ("vehicle a: class truck\naxle: position 1\n", ["`axle` needs a name"]),
    ("vehicle a: class truck\naxle one: position 1\naxle one: position 2\n", ["there are two axles called `one`"]),
    ("vehicle a: class truck\naxle one\nchamber c: type 20, stroke 2 in, axle one, side left\n",
     ["axle needs `position`: counted from the front, 1 is first"]),
    ("vehicle a: class truck\nchamber c: type 20, stroke 2 in, axle one, side left\n", ["no axle is called `one`"]),
    ("vehicle a: class truck\ncircuit: role service\n", ["`circuit` needs one name"]),
    ("vehicle a: class truck\ncircuit c: axles front\n", ["no axle is called `front`"]),
    ("vehicle a: class truck\ncircuit c: reservoirs nothing\n", ["nothing is called `nothing`"]),
    ("vehicle a: class truck\naxle one: position 1\ncircuit c: reservoirs one\n", ["nothing is called `one`"]),
    ('vehicle a: class truck\nwaive: at a, because "x"\n', ["`waive` needs the name of one rule"]),
    ('vehicle a: class truck\nwaive port-open: at b, because "x"\n', ["nothing is called `b`"]),
    ("vehicle a: class truck\nwaive port-open: at a\n", ["waive needs `because`: the reason, for every reader of the report"]),
    ("vehicle a class truck\naxle front: position 1\n", ["this is no statement"]),
    ("vehicle a: class truck\ntrial t\n", ["a trial has one name and a block of steps"]),
]


@pytest.mark.parametrize(("text", "says"), SAYINGS, ids=[text[-45:].strip() for text, _ in SAYINGS])
def test_what_a_design_cannot_say_of_itself(text: str, says: list[str]):
    with pytest.raises(Unreadable) as refused:
        loaded(text)
    assert [m.says for m in refused.value.mistakes] == says


def test_an_axle_that_is_missing_is_offered_by_its_place():
    with pytest.raises(Unreadable) as refused:
        loaded("vehicle a: class truck\naxle one: position 1\nchamber c: type 20, stroke 2 in, axle zzz, side left\n")
    assert refused.value.mistakes[0].expected == "write it down: axle zzz: position 2"
    with pytest.raises(Unreadable) as refused:
        loaded("vehicle a: class truck\naxle one: position 1\ncircuit c: axles zzz\n")
    assert refused.value.mistakes[0].expected == "the axles are one"


def test_waivers_may_name_what_is_no_part():
    for thing in ("front", "mine", "first", "pri", "pri.1"):
        rows = SELF.replace("axle mid and rear: position 2\n", "").replace("at first,", f"at {thing},")
        assert loaded(rows).waivers[1].at == thing


# --- words -----------------------------------------------------------------------------------------------------------


def test_every_word_that_may_begin_a_statement_is_known_with_its_settings():
    words = VOCABULARY.kinds
    assert {"reservoir", "tank", "relay-valve", "vehicle", "expect"} <= set(words)
    assert words["vehicle"] >= {"class", "title", "tows"} and words["expect"] == {"pressure", "state", "within", "until"}
    assert words["check-valve"] == {"opens-at", "conductance"} and words["fit"] == frozenset()
    assert len(words) == len(list(words)) > 150
    with pytest.raises(KeyError):
        words["wibble"]
    assert set(FORMS) | set(ACTIONS) <= set(words)


@pytest.mark.parametrize(("row", "word"), [
    ("chamber c: type 30, stroke 2 m, axle rear, side left", "`stroke` 2 m"),
    ("chamber c: type 30, stroke 0.2 in, axle rear, side left", "`stroke` 0.2 in"),
    ("chamber c: type 30, stroke 2.5 in, slack-length 6 m, axle rear, side left", "`slack-length` 6 m"),
    ("chamber c: type 30, stroke 2.5 in, holds 89 L, axle rear, side left", "`holds` 89 L"),
    ("chamber c: type 30, stroke 2.5 in, drum-radius 8.25 mm, axle rear, side left", "`drum-radius` 8.25 mm"),
    ("reservoir c: volume 46 in3, rated 10 bar, role service", ""),
    ("reservoir c: volume 4600 L, rated 10 bar, role service", "`volume` 4600 L"),
])
def test_what_is_out_of_all_proportion_is_refused_where_it_stands(row: str, word: str):
    if not word:
        circuit_of(f"axle rear: position 2\n{row}\n")
        return
    says, expected = next(one[1:] for one in told(f"axle rear: position 2\n{row}\n") if "proportion" in one[1])
    assert says == f"{word} is out of all proportion" and "look at the unit" in expected
