"""A table for people: times in minutes, and without the columns that hold nothing."""

from circuit.report.table import Table, in_minutes, without_empty

FILLED = Table("filled", "Filled", ("reservoir", "whole s", "limit s"), (("dry", "150", ""), ("wet", "90", "")),
               numbers={"whole s", "limit s"})


def test_times_of_some_minutes_are_said_as_people_say_them():
    shown = in_minutes(FILLED)
    assert shown.columns == ("reservoir", "whole", "limit") and shown.column("whole") == ["2 min 30 s", "90.0 s"]
    assert not shown.numbers


def test_a_column_of_times_may_have_been_left_out_as_empty():
    shown = in_minutes(without_empty(FILLED))
    assert shown.columns == ("reservoir", "whole") and shown.column("whole") == ["2 min 30 s", "90.0 s"]


def test_seconds_stay_where_none_are_minutes():
    short = FILLED._replace(rows=(("dry", "119", ""),))
    assert in_minutes(short) is short
