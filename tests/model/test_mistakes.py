"""What is said of a design whose names, settings or joints cannot be understood: one slip, one message, in place."""

import pytest

from circuit.mistake import Unreadable
from circuit.near import did_you_mean, near
from tests.designs import completed, loaded

TANK = "reservoir tank: volume 20 L, rated 10 bar, role service"
TWO = "reservoir a and b: volume 20 L, rated 10 bar, role service"
FIRST_ONE = "the first one"

SLIPS = [
    # rows, line, column, says, expected, what the second place is
    ("rely-valve relay", 1, 1, "no kind is called `rely-valve`", "did you mean relay-valve?", ""),
    ("Relay-Valve relay", 1, 1, "no kind is called `Relay-Valve`", "kinds are written small: relay-valve", ""),
    ("wibble a", 1, 1, "no kind is called `wibble`", "if this is a remark, begin it with #", ""),
    ("relay-valve", 1, 1, "`relay-valve` needs a name", "write relay-valve NAME: ..., the name without quotes", ""),
    ("reservoir a -> b: size 1/2 in", 1, 1, "`reservoir` is a thing, not a line", "write reservoir NAME: ...", ""),
    ("tube a: length 1 m", 1, 1, "`tube` is a line: it joins two ports", "write tube FROM -> TO: ...", ""),
    (f"{TANK}\n{TANK}", 2, 11, "there are two things called `tank`", "give one of them another name", FIRST_ONE),
    (f"{TANK}\ntube tank -> tank: size 1/2 in, length 1 m", 2, 1, "this line joins a port to itself",
     "write two different ends", ""),
    (f"{TANK}\ntube tank -> nothing: size 1/2 in, length 1 m", 2, 14, "nothing is called `nothing`",
     "write it down first, as KIND NAME: ...", ""),
    (f"{TANK}\ntube tank -> tnak: size 1/2 in, length 1 m", 2, 14, "nothing is called `tnak`", "did you mean tank?",
     ""),
    (f"{TANK}\nrelay-valve relay\ntube tank -> relay: size 1/2 in, length 1 m", 3, 14,
     "`relay` is a relay-valve with several ports",
     "say which: relay.1 (supply), relay.2 (delivery), relay.3 (exhaust), relay.4 (control)", ""),
    (f"{TANK}\nrelay-valve relay\ntube tank -> relay.9: size 1/2 in, length 1 m", 3, 14,
     "relay is a relay-valve, and it has no port `9`",
     "its ports are 1 (supply), 2 (delivery), 3 (exhaust), 4 (control)", ""),
    (f"{TANK}\ncheck-valve guard\n" + 2 * "tube tank -> guard.1: size 1/2 in, length 1 m\n", 4, 1,
     "guard.1 has 1 hole and takes no more", "use a tee, or a port with more holes", "the last line it took"),
    ("relay-valve relay: deliveries 1\nplug relay.2 and relay.2", 2, 18, "relay.2 has 1 hole and takes no more",
     "write `deliveries 2` on relay if it has the holes, or use a tee", "the last line it took"),
    ("plug", 1, 1, "`plug` needs the port it closes", "write plug rear-relay.2", ""),
    ("drain tap: on nowhere", 1, 15, "nothing is called `nowhere`", "write it down first, as KIND NAME: ...", ""),
    ("chamber left: type 20, stroke 2.25 in, axle frnt, side left", 1, 40, "no axle is called `frnt`",
     "did you mean front?", ""),
    ("chamber left: type 20, stroke 2.25 in, axle front", 1, 1,
     "chamber needs `side`: left or right, seen by the driver", "add `side` and one of left, right", ""),
    ("chamber left: type 20 in, stroke 2.25 in, axle front, side left", 1, 20,
     "a chamber type is a trade number without a unit, and 20 in has one",
     "write the number alone, as in type 20, or 30/30 for a double chamber", ""),
    ("chamber left: type 20/20, stroke 2.25 in, axle front, side left", 1, 1,
     "type 20/20 is a double chamber: write type 20, or use spring-chamber", "", ""),
    ("chamber left: type 20, stroke 2.25 in, axle front, side middle", 1, 57, "`side` cannot be `middle`",
     "write one of left, right", ""),
    ("reservoir tank: volume 20, rated 10 bar, role service", 1, 24,
     "volume 20 needs a unit", "write a volume, as in 20 L or 1400 in3", ""),
    ("reservoir tank: volum 20 L, rated 10 bar, role service", 1, 17, "reservoir has no setting `volum`",
     "did you mean volume?", ""),
    ("reservoir tank: volume 20 L, volume 30 L, rated 10 bar, role service", 1, 30, "`volume` is written twice",
     "remove one of them", FIRST_ONE),
    ("reservoir tank: volume -20 L, rated 10 bar, role service", 1, 24, "-20 L is below nothing",
     "write a volume, as in 20 L or 1400 in3", ""),
    ("reservoir tank: volume 0 L, rated 10 bar, role service", 1, 24, "`volume` cannot be nothing",
     "write a volume, as in 20 L or 1400 in3", ""),
    ("reservoir tank: volume big, rated 10 bar, role service", 1, 24, "`big` is not a number",
     "write a volume, as in 20 L or 1400 in3", ""),
    (f"{TWO}\ntube a -> b: size 1/2, length 1 m", 2, 19, "tube size 1/2 needs its unit", "write 1/2 in", ""),
    *((f"{TWO}\ntube a -> b: size {odd}, length 1 m", 2, 19, f"{odd} is no trade size of tube",
       "write an outside diameter (1/8, 5/32, 3/16, 1/4, 5/16, 3/8, 1/2, 5/8, 3/4 in) or outside diameter x wall in mm, "
       "as in 12x1.5", "") for odd in ("8xbore", "8x1x1", "8x5")),
    (f"{TWO}\nhose a -> b: bore 13 m, length 1 m", 2, 19, "a bore of 13 m is no air line",
     "write an inside diameter, as in 3/8 in or 13 mm", ""),
    ("axle rear: position 1", 1, 6, "two axles stand at position 1", "count from the front", FIRST_ONE),
    ("axle rear", 1, 1, "axle needs `position`: counted from the front, 1 is first",
     "add `position` and a whole number", ""),
    ("circuit one: axles back", 1, 20, "no axle is called `back`", "the axles are front", ""),
    ("relay-valve relay\ncircuit one: reservoirs relay, axles front", 2, 25,
     "`relay` is a relay-valve, not a reservoir", "name a reservoir", ""),
    ('waive port-open: at nowhere, because "x"', 1, 21, "nothing is called `nowhere`",
     "write it down first, as KIND NAME: ...", ""),
    ("use missing", 1, 1, "`use` needs a file name between quotes", 'write use "axles.air"', ""),
    ("assembly pair: blanks x {\n    tee t\n}\npair one", 4, 1, "pair needs x", "fill in: x ...", "the assembly"),
    ("assembly pair: blanks x {\n    tee t\n}\npair one: y 3, x 2", 4, 11, "the assembly pair has no blank `y`",
     "its blanks are x", "the assembly"),
    ("assembly pair {\n    tee <n>\n}", 1, 10, "`<n>` is used inside, and `n` is no blank of this assembly",
     "add it: blanks n", ""),
    ("trial t", 1, 1, "a trial has one name and a block of steps", "write trial full-application { ... }", ""),
    (f"{TANK}\ntrial t {{\n    expect tank: within 1 s\n}}", 3, 5, "`expect` needs what to expect",
     "write pressure at least 60 psi, or state on", ""),
    ("trial t {\n    press foot: to 100 %\n}", 2, 11, "nothing is called `foot`",
     "write it down first, as KIND NAME: ...", ""),
]


@pytest.mark.parametrize("rows, line, column, says, expected, second", SLIPS, ids=[slip[3][:50] for slip in SLIPS])
def test_one_slip_has_one_message(rows: str, line: int, column: int, says: str, expected: str, second: str):
    text = completed(rows)
    before = text.count("\n") - rows.count("\n")
    with pytest.raises(Unreadable) as refused:
        loaded(text)
    found = [(m.at.outermost.line - before, m.at.outermost.column, m.says, m.expected, m.other[1] if m.other else "")
             for m in refused.value.mistakes]
    assert found == [(line, column, says, expected, second)]


def test_a_slip_inside_an_assembly_is_shown_at_both_places():
    rows = "assembly pair: blanks x {\n    tee t: holes <x>\n}\npair one: x 2"
    with pytest.raises(Unreadable) as refused:
        loaded(completed(rows))
    (mistake,) = refused.value.mistakes
    assert mistake.says == "tee has no setting `holes`"
    assert (mistake.at.line - 3, mistake.at.outermost.line - 3) == (2, 4)


def test_every_slip_of_a_design_is_reported_at_once_and_in_order():
    rows = "reservoir tank: volume 20, rated 10 bar, role service\nrely-valve relay\nchamber left: type 20"
    with pytest.raises(Unreadable) as refused:
        loaded(completed(rows))
    lines = [m.at.line - 3 for m in refused.value.mistakes]
    assert lines == sorted(lines) and set(lines) == {1, 2, 3}


def test_what_hangs_on_a_broken_statement_is_not_reported_again():
    rows = f"rely-valve relay\n{TANK}\ntube tank -> relay.1: size 1/2 in, length 1 m"
    with pytest.raises(Unreadable) as refused:
        loaded(completed(rows))
    assert [m.says for m in refused.value.mistakes] == ["no kind is called `rely-valve`"]


@pytest.mark.parametrize("text, says", [
    ("tee a\n", "this design does not say what vehicle it is for"),
    ("vehicle a: class truck\nvehicle b: class bus\n", "a design is for one vehicle, and this is a second `vehicle`"),
    ("vehicle a: class lorry\n", "`class` cannot be `lorry`"),
    ("vehicle a: class truck\nrules us-fedral\n", "no set of rules is called `us-fedral`"),
    ("vehicle a: class truck\nrules\n", "`rules` needs the name of a set of rules"),
    ('vehicle a: class truck\nuse "missing.air"\n',
     "there is no file `missing.air` beside this design or in the library"),
])
def test_what_a_design_as_a_whole_lacks(text: str, says: str):
    with pytest.raises(Unreadable) as refused:
        loaded(text)
    assert [m.says for m in refused.value.mistakes] == [says]


def test_near_names_are_few_and_the_nearest_first():
    known = ("relay-valve", "trolley-valve", "treadle-valve", "check-valve", "tee")
    assert near("rely-valve", known) == ("relay-valve",)
    assert near("zzz", known) == () and did_you_mean("zzz", known) == ""
    assert did_you_mean("check", known) == "did you mean check-valve?"
    assert len(near("valve", [f"{n}-valve" for n in "abcdefgh"])) == 4
