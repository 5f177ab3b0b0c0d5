"""A first order of the items in each column: by their neighbours' places, or as a layout engine has them."""

from circuit.draw.field import Field


def by_neighbours(target: Field, rightwards: bool = True) -> None:
    """A first order: each column by the mean place of what its items are joined to in the columns before."""
    place = {id(item): float(i) for column in target.columns for i, item in enumerate(column)}
    columns = target.columns if rightwards else list(reversed(target.columns))
    for turn in range(4):
        for column in columns if turn % 2 == 0 else reversed(columns):
            means = {}
            for item in column:
                near = [place[id(mate.item)] + mate.dy / 40 for point in item.points for mate in point.mates
                        if mate.item.column != item.column]
                means[id(item)] = sum(near) / len(near) if near else place[id(item)]
            column.sort(key=lambda item: means[id(item)])
            for i, item in enumerate(column):
                place[id(item)] = i / max(1, len(column) - 1) * 10


def take_order(target: Field, heights: dict[int, float]) -> None:
    """Sort every column by given heights. heights: id of an item to a height, smaller is further up."""
    for column in target.columns:
        column.sort(key=lambda item: heights.get(id(item), 0.0))
