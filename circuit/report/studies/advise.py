"""Advice in words: what to change, what it costs, and what it does to every other check."""

import re
from collections.abc import Sequence

from circuit.report.account import Account
from circuit.report.studies.words import names
from circuit.report.table import Table
from circuit.report.words import compared
from circuit.verdict.advice import Advised, Missed
from circuit.verdict.trade_changes import Prices, cost

_SAME = re.compile(r"([\d.,]+ ?\S*) before, \1 now")
KEY, RECORD = "advise", Advised
_SERIES = ("Tried are sizes of the trade (shared/trade.toml: common practice, no source), a quick release or a relay put into a "
           "long signal line, and settings put to their limit: not another layout. Lengths stay as drawn.")


def account(found: Advised, prices: Prices) -> Account:
    notes = [_SERIES, _searched(found)]
    if found.unsearched:
        notes.append(f"No size and no setting mends {names(found.unsearched)}: what the finding itself says stands.")
    if found.hangs:
        hanging = names([f"{each.rule} at {each.thing}" for each in found.hangs])
        notes.append(f"Met, but not over the whole range of what is assumed: {hanging}. "
                     "airwright advise --band asks for that too.")
    tables = (_verdict(found), *([_changes(found, prices)] if found.changes else []), *([_missed(found)] if found.missed else []),
              *([_other(found)] if found.other else []), *([_rows(found)] if found.changes else []))
    return Account(KEY, "Advice", found.circuit, found, tables, notes=tuple(notes), is_met=not found.left)


def _searched(found: Advised) -> str:
    how = "in the order of what they cost, so that none that is cheaper does" if found.exact else \
        "in the order of what they cost and then step by step: a cheaper one may do too"
    return f"{found.tried} combinations were tried, {how}. Cheaper is: fewer parts, then kg, then m; with --prices what it costs."


def _verdict(found: Advised) -> Table:
    if not found.missed:
        says = "nothing to advise: nothing is missed"
    elif not found.changes:
        says = "nothing in the series helps: no combination of sizes, settings and valves that was tried meets what is missed"
    elif found.left:
        says = "a part of what is missed can be met; the rest is left"
    else:
        says = "with these changes all that is missed is met, as predicted"
    return Table("verdict", "Advice", ("advice",), ((says,),), wide={"advice"})


def _changes(found: Advised, prices: Prices) -> Table:
    rows = tuple((each.says, str(each.parts), f"{each.mass:.2f}", f"{each.metres:.1f}", _price(each.items, prices))
                 for each in found.changes)
    total = cost(found.changes, prices)
    notes = (f"Together {total[0]:.2f} by the prices given." if prices else "No prices given; kg of compressors is not known.",)
    return Table("changes", "What to change", ("change", "parts", "kg", "m", "price"), rows, notes,
                 numbers={"parts", "kg", "m", "price"}, wide={"change"})


def _price(items: Sequence[tuple[str, float]], prices: Prices) -> str:
    missing = [name for name, _ in items if name not in prices]
    return "" if not prices or missing else f"{sum(prices[name] * much for name, much in items):.2f}"


def _missed(found: Advised) -> Table:
    rows = tuple((each.rule, each.thing, _short(each), "met" if each in found.healed else "not met", each.asked_by)
                 for each in found.missed)
    return Table("missed", "What is missed, and with the changes", ("check", "at", "before", "then", "asked by"), rows,
                 wide={"check", "at", "before", "asked by"})


def _short(each: Missed) -> str:
    if each.figure is None:
        return each.says
    found, limit, _ = compared(each.figure)
    return f"{each.figure.what} {found}, {limit} asked"


def _other(found: Advised) -> Table:
    told = {(each.rule, each.thing) for each in found.healed}
    rows = tuple((each.what, each.rule, each.thing, each.says) for each in found.other
                 if (each.rule, each.thing) not in told and not _SAME.search(each.says))
    return Table("other", "What it does to other checks", ("comes out", "check", "at", "how"), rows, wide={"how", "at"})


def _rows(found: Advised) -> Table:
    return Table("rows", "Rows to add to the design", ("row",), tuple((row,) for row in found.rows), wide={"row"})
