"""Settings that order each other: every such pair is declared, and a design that writes it the wrong way round is refused."""

import pytest

from circuit import kinds
from circuit.declaring.contract import broken
from circuit.declaring.following import disordered
from circuit.declaring.kind import Kind, Ordered
from circuit.mistake import Unreadable
from circuit.model.places import NoSuchPlace
from circuit.model.settings import typical_value
from circuit.sim.script import Variant
from circuit.sim.variants import with_settings
from tests.contract.stand import written
from tests.designs import completed, loaded

KINDS = kinds.every()
PAIRS = [("shuts-at", "opens-at"), ("cut-in", "cut-out"), ("vents-below", "shuts-at"), ("applies-below", "releases-at"),
         ("limits-below", "full-above"), ("empty-ratio", "laden-ratio"), ("empty-bag", "laden-bag"), ("knee", "full-from"),
         ("working-stroke", "stroke"), ("deflates-to", "inflates-to")]
"""Words of the trade of which the first is the lower, on whatever part they stand."""
EACH = [(kind, order) for kind in KINDS for order in kind.orders if kind.setting(order.low) and kind.setting(order.high)]
EACH_ID = [f"{kind.name}-{order.low}" for kind, order in EACH]


@pytest.mark.parametrize("kind", KINDS, ids=[kind.name for kind in KINDS])
def test_a_pair_of_the_trade_is_declared_wherever_it_stands(kind: Kind):
    declared = {order[:2] for order in kind.orders}
    outlets = {name.rpartition("-")[2] for name, _ in declared if name.rpartition("-")[2].isdigit()}
    for pair in PAIRS:
        if kind.setting(pair[0]) and kind.setting(pair[1]):
            each = {(f"{pair[0]}-{outlet}", f"{pair[1]}-{outlet}") for outlet in outlets}
            assert pair in declared or each and each <= declared, f"{pair} is not ordered"


@pytest.mark.parametrize("kind", KINDS, ids=[kind.name for kind in KINDS])
def test_typical_values_keep_their_own_order(kind: Kind):
    typical = {s.name: typical_value(s) if s.typical else None for s in kind.settings}
    assert [*disordered(kind, {**dict.fromkeys(kind.derives), **typical})] == []


def row(kind: Kind, order: Ordered, low: str, high: str) -> str:
    """A statement with both settings of an order, and whatever else must be written."""
    needed = [written(s, kind).replace("axle rear", "axle front") for s in kind.settings
              if s.required and s.name not in order[:2]]
    return f"{kind.name} part: " + ", ".join([*needed, f"{order.low} {low}", f"{order.high} {high}"])


VALUES = {"pressure": ("6 bar", "7 bar"), "length": ("2 in", "3 in"), "ratio": ("0.5", "0.8")}


@pytest.mark.parametrize(("kind", "order"), EACH, ids=EACH_ID)
def test_the_wrong_way_round_is_refused_with_its_place_and_what_to_write(kind: Kind, order: Ordered):
    setting = kind.setting(order.low)
    assert setting is not None
    less, more = VALUES[setting.dimension]
    text = row(kind, order, more, less)
    with pytest.raises(Unreadable) as refused:
        loaded(completed(text))
    (mistake,) = refused.value.mistakes
    assert mistake.says.startswith(f"`{order.low}` {more} {'is above' if order.equal else 'is not below'} `{order.high}` {less}")
    words = ("at most", "at least") if order.equal else ("below", "above")
    assert mistake.expected == f"write `{order.low}` {words[0]} {less}, or `{order.high}` {words[1]} {more}"
    assert mistake.at.source.row(mistake.at.line)[mistake.at.column - 1:].startswith(f"{order.low} {more}")
    assert mistake.other is not None
    place = mistake.other[0]
    assert place.source.row(place.line)[place.column - 1:].startswith(f"{order.high} {less}")


@pytest.mark.parametrize(("kind", "order"), EACH, ids=EACH_ID)
def test_equal_values_are_refused_where_one_must_be_below(kind: Kind, order: Ordered):
    setting = kind.setting(order.low)
    assert setting is not None
    text = completed(row(kind, order, *2 * VALUES[setting.dimension][:1]))
    if order.equal:
        assert loaded(text).by_name["part"]
    else:
        with pytest.raises(Unreadable, match="mistakes"):
            loaded(text)


def test_a_variant_cannot_put_them_the_wrong_way_round_either():
    circuit = loaded(completed("pressure-protection-valve part: opens-at 7 bar, shuts-at 6 bar"))
    with pytest.raises(NoSuchPlace, match="`part` cannot be set so: `shuts-at`"):
        with_settings(circuit, Variant("", settings={("part", "shuts-at"): 9e5}))
    both = with_settings(circuit, Variant("", settings={("part", "shuts-at"): 9e5, ("part", "opens-at"): 10e5}))
    assert both.by_name["part"].settings["opens-at"] == 10e5


def test_an_order_of_what_is_not_there_is_refused_when_the_kind_is_loaded():
    governor = kinds.find("governor")
    assert governor is not None
    wrong = governor._replace(orders=(Ordered("cut-in", "cut-of"),))
    assert [*broken(wrong)] == ["governor says how cut-of is ordered, which is neither a setting nor derived"]
