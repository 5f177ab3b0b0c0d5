"""What a shop orders and cuts, as tables."""

from collections.abc import Mapping

from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.studies.words import names
from circuit.report.table import Table
from circuit.studies.ordering import Item, Order, order

KEY, RECORD = "order", Order
_NOTES = ("Threads, allowances and clips go by the size of the line (shared/trade.toml: common practice, no source) where no "
          "list of the shop says otherwise: the parts at hand decide. kg and prices are of what is known; an empty field is "
          "not nothing.",)


def account(circuit: Circuit, prices: Mapping[str, float] | None = None, threads: Mapping[str, str] | None = None,
            added: bool = False) -> Account:
    found = order(circuit, prices, threads, added)
    return Account(KEY, "Order and cut lists", circuit, found, tables(found), notes=_NOTES, predicted=False)


def tables(found: Order) -> tuple[Table, ...]:
    """The order, the cut list and the fittings."""
    return (_order(found), _cuts(found), _fittings(found))


def _order(found: Order) -> Table:
    rows = tuple((item.item, _much(item), item.unit, _figure(item.mass), _figure(item.price), item.for_) for item in found.items)
    price = "" if found.price is None else f", price {found.price:.2f}"
    notes = [f"Together {found.mass:.1f} kg of what is known{price}."]
    if found.unlong:
        notes.append(f"No length is written for {names(found.unlong)}: nothing is ordered of it but its ends.")
    return Table("order", "Order list", ("item", "quantity", "unit", "kg", "price", "for"), rows, tuple(notes),
                 numbers={"quantity", "kg", "price"}, wide={"item", "for"})


def _much(item: Item) -> str:
    return f"{item.quantity:.2f}" if item.unit == "m" else f"{item.quantity:.0f}"


def _figure(value: float | None) -> str:
    return "" if value is None else f"{value:.2f}"


def _cuts(found: Order) -> Table:
    rows = tuple((str(number), cut.line, cut.kind, cut.size, f"{cut.laid:.3f}", f"{1e3 * cut.allowance:.0f}", f"{cut.length:.3f}",
                  str(cut.clips or "")) for number, cut in enumerate(found.cuts, 1))
    sums = "; ".join(f"{size} {metres:.2f} m" for size, metres in sorted(found.metres.items()))
    return Table("cuts", "Cut list", ("no.", "line", "kind", "size", "laid m", "allowance mm", "cut m", "clips"), rows,
                 (f"Cut together: {sums}. Without the allowance it is what the tube schedule has.",) if rows else (),
                 numbers={"no.", "laid m", "allowance mm", "cut m", "clips"}, wide={"line"})


def _fittings(found: Order) -> Table:
    rows = tuple((each.line, each.at, each.what, each.size, each.thread) for each in found.fittings)
    return Table("fittings", "Fittings, one at each end of each line", ("line", "at", "fitting", "size", "thread"), rows,
                 wide={"line", "at"})
