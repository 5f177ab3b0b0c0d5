"""A new device kind is one new file. So is a new rule, once a clause asks its question: nothing else has to know it."""

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import circuit.kinds
import circuit.rules
from circuit import kinds, rules
from circuit.clauses import ALWAYS
from circuit.verdict.judge import judge
from tests.designs import EXAMPLES, completed, loaded, open_findings
from tests.further import forget, further_clauses

MUFFLER = '''
"""Muffler: quietens an exhaust."""

from circuit.declaring.common import cavity, conductance
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Passage, Port, Store
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="wool-muffler",
    title="Wool muffler",
    group=Group.LINES,
    purpose="Quietens the air that a valve lets out.",
    behaviour="Always open to the atmosphere through wool.",
    ports=(Port("1", Role.SPACE),),
    settings=(conductance("5 L/(s.bar)"),),
    passages=(Passage("1", OUTSIDE, "always open"),),
    stores=(Store("1", cavity(0.1)),),
    failures=(Failure("blocked", "ice closes it", shuts=(("1", OUTSIDE),)),),
    traits=frozenset({Trait.OPEN_END}),
    aliases=("silencer",),
)
'''

RULE = '''
"""A muffler is fitted.

Why
---
This rule is only for a test.

What happens
------------
Nothing.

What is not checked
-------------------
Everything else.

Bad
---
    silencer wool

Good
----
    open-end bare
"""

from circuit.judging.rule import Rule, not_met


def check(evidence, limits):
    for device in evidence.circuit.devices:
        if "wool" in device.title:
            yield not_met(device.name, device.span, "there is wool in it", "take it out")


RULE = Rule("wool-in-exhaust", "exhausts are free of wool", "warning", check)
'''

DESIGN = "relay-valve relay: deliveries 1\nplug relay.1 and relay.2 and relay.4\nsilencer wool\nfit relay.3 -> wool\n"


def _forget() -> None:
    kinds._known.clear()
    kinds._complete = False
    rules.every.cache_clear()
    for name in ("circuit.kinds.wool_muffler", "circuit.rules.wool_in_exhaust"):
        sys.modules.pop(name, None)


@pytest.fixture
def further_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A copy of the kinds' and rules' folders in which files may be added, read instead of the real ones."""
    for package in (circuit.kinds, circuit.rules):
        real = Path(package.__file__ or "").parent
        copy = tmp_path / real.name
        copy.mkdir()
        for path in real.glob("*.py"):
            (copy / path.name).write_text(path.read_text(encoding="utf-8"), encoding="utf-8")
        monkeypatch.setattr(package, "__path__", [*package.__path__, str(copy)])
    monkeypatch.setattr(circuit.kinds, "_FOLDER", tmp_path / "kinds")
    monkeypatch.setattr(circuit.rules, "__file__", str(tmp_path / "rules" / "__init__.py"))
    further_clauses(tmp_path, monkeypatch, changed={
        ALWAYS: ('question = "exhaust-blocked"', 'questions = ["exhaust-blocked", "wool-in-exhaust"]')})
    _forget()
    yield tmp_path
    monkeypatch.undo()
    forget()
    _forget()


def test_a_new_kind_is_one_new_file(further_folder: Path):
    assert kinds.find("wool-muffler") is None
    _forget()
    (further_folder / "kinds" / "wool_muffler.py").write_text(MUFFLER, encoding="utf-8")
    circuit = loaded(completed(DESIGN))
    assert circuit.by_name["wool"].kind.title == "Wool muffler"
    assert "exhaust-blocked" not in [rule for _, rule in open_findings(judge(circuit))]
    assert {"wool-muffler", "silencer"} <= set(kinds.names())


def test_a_new_rule_is_one_new_file(further_folder: Path):
    (further_folder / "kinds" / "wool_muffler.py").write_text(MUFFLER, encoding="utf-8")
    circuit = loaded(completed(DESIGN))
    assert "wool-in-exhaust" not in [rule for _, rule in open_findings(judge(circuit))]
    _forget()
    (further_folder / "rules" / "wool_in_exhaust.py").write_text(RULE, encoding="utf-8")
    circuit = loaded(completed(DESIGN))
    assert (6, "wool-in-exhaust") in open_findings(judge(circuit))


def test_a_file_and_its_kind_bear_one_name(further_folder: Path):
    (further_folder / "kinds" / "felt_muffler.py").write_text(MUFFLER, encoding="utf-8")
    with pytest.raises(ValueError, match="file and kind name must agree"):
        kinds.every()


def test_two_kinds_may_not_answer_to_one_name(further_folder: Path):
    stolen = MUFFLER.replace('"silencer"', '"tank"')
    (further_folder / "kinds" / "wool_muffler.py").write_text(stolen, encoding="utf-8")
    with pytest.raises(ValueError, match="two kinds answer to tank"):
        kinds.every()


def test_the_new_kind_is_gone_afterwards():
    assert kinds.find("wool-muffler") is None and rules.find("wool-in-exhaust") is None
    assert EXAMPLES.is_dir()
