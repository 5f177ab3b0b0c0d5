"""Changes to the rows of a design: spacing, remarks and other rows stay as they were."""

from circuit.model.known_words import VOCABULARY
from circuit.plant.rows import Add, Drop, Swap, edited, with_setting, without_name
from circuit.source import Source
from circuit.syntax.parse import parse
from circuit.syntax.statements import Statement


def statement(text: str) -> tuple[Source, Statement]:
    source = Source("x.air", text)
    statements, mistakes = parse(source, VOCABULARY)
    assert not mistakes
    return source, statements[0]


def test_rows_are_swapped_dropped_and_added_at_their_old_places():
    source = Source("x.air", "one\ntwo\nthree\nfour")
    result = edited(source, [Drop(2), Add(2, "new"), Swap(4, 1, 4, "4"), Swap(1, 4, 0, "!")])
    assert result.text == "one!\nnew\nthree\n4"
    assert result.changed == (1, 2, 4) and result.gone == ("two",)


def test_a_row_is_put_in_as_often_as_is_asked_and_anything_else_once():
    source = Source("x.air", "one\ntwo")
    result = edited(source, [Add(1, "plug a"), Swap(2, 1, 0, "!"), Add(1, "plug a"), Swap(2, 1, 0, "!")])
    assert result.text == "one\nplug a\nplug a\n!two"


def test_two_swaps_in_one_row_do_not_push_each_other():
    result = edited(Source("x.air", "tube a -> b"), [Swap(1, 6, 1, "long-name"), Swap(1, 11, 1, "c")])
    assert result.text == "tube long-name -> c"


def test_a_setting_is_changed_where_it_stands_and_else_added():
    source, drain = statement("drain d:  on tank, placed lowest   # the low point")
    assert edited(source, with_setting(drain, None, "placed", "end")).text == \
        "drain d:  on tank, placed end   # the low point"
    assert edited(source, with_setting(drain, None, "operated", "by-cord")).text == \
        "drain d:  on tank, placed lowest, operated by-cord   # the low point"
    source, bare = statement("relay-valve r   # bare")
    assert edited(source, with_setting(bare, None, "deliveries", "4")).text == "relay-valve r: deliveries 4   # bare"


def test_of_several_names_only_one_is_changed():
    source, both = statement("check-valve a and b and c: opens-at 0.1 bar   # all")
    result = edited(source, with_setting(both, both.names[1], "opens-at", "1 bar"))
    assert result.text == "check-valve a and c: opens-at 0.1 bar   # all\ncheck-valve b: opens-at 1 bar"
    first = edited(source, without_name(both, both.names[0]))
    assert first.text == "check-valve b and c: opens-at 0.1 bar   # all"
    assert edited(source, without_name(both, both.names[2])).text == "check-valve a and b: opens-at 0.1 bar   # all"


def test_the_only_name_takes_all_rows_of_its_statement_along():
    source, tank = statement("reservoir t: volume 20 L,\n    rated 10 bar, # note\n    role service\ndrain d: on t")
    assert edited(source, without_name(tank, tank.names[0])).text == "drain d: on t"
