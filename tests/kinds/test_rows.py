"""Every row of the trade's device list is covered by a kind, and no kind names a row that is not there."""

from circuit import kinds
from circuit.tables import table

STILL_MISSING: frozenset[int] = frozenset()
"""Rows that no kind covers yet."""


def rows() -> dict[int, dict[str, object]]:
    return {row["row"]: row for row in table("devices")["device"]}


def covered() -> dict[int, list[str]]:
    found: dict[int, list[str]] = {}
    for kind in kinds.every():
        for row in kind.rows:
            found.setdefault(row, []).append(kind.name)
    return found


def test_the_list_is_whole_and_in_order() -> None:
    assert list(rows()) == list(range(1, 88))
    groups = table("devices")["groups"]
    for row in rows().values():
        assert row["group"] in groups and row["title"] and row["sources"], row


def test_groups_are_those_of_the_kinds() -> None:
    from circuit.declaring.traits import Group

    assert list(table("devices")["groups"].values()) == [group.value for group in Group]


def test_every_row_is_covered() -> None:
    assert set(rows()) - set(covered()) == STILL_MISSING


def test_no_kind_names_an_unknown_row() -> None:
    unknown = {row: names for row, names in covered().items() if row not in rows()}
    assert not unknown
