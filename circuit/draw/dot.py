"""A circuit as plain Graphviz text: stage columns, a table with port cells for each device, lines as edges."""

from circuit.draw.columns import give_columns
from circuit.draw.palette import colours
from circuit.draw.collect import collect
from circuit.draw.roles import assign
from circuit.draw.text import figures, line_label
from circuit.declaring.traits import Role
from circuit.model.circuit import Circuit
from circuit.model.devices import Device


def source(circuit: Circuit) -> str:
    """The text of the graph."""
    parts = collect(circuit)
    roles = assign(circuit, parts)
    give_columns(circuit, parts)
    tint = colours(roles.circuits)
    columns: dict[int, list[Device]] = {}
    for body in parts.bodies:
        columns.setdefault(body.column, []).append(body.device)
        columns[body.column] += [small.device for small in body.smalls]
    stage = {device.name: column for column, devices in columns.items() for device in devices}
    rows = [
        f"digraph {_quoted(circuit.vehicle.name)} {{",
        f"  label={_quoted(circuit.vehicle.title)}; labelloc=t; rankdir=LR; newrank=true; ranksep=0.8; nodesep=0.25;",
        '  node [shape=plain, fontname="Helvetica", fontsize=10];',
        '  edge [arrowhead=none, fontname="Helvetica", fontsize=8];',
    ]
    for column in sorted(columns):
        rows.append("  {")
        rows.append(f"    rank=same; c{column} [shape=point, width=0, style=invis];")
        rows += [f"    {_quoted(device.name)} [label=<{_table(device)}>];" for device in columns[column]]
        rows.append("  }")
    rows.append("  " + " -> ".join(f"c{column}" for column in sorted(columns)) + " [weight=100, style=invis];")
    rows += [f"  {_quoted(name)} [label=<{_table(device)}>];" for name, device in parts.tees.items()]
    tees = set(parts.tees)
    for wire in parts.wires:
        for run in wire.runs:
            (one, port), (other, far) = run.ports
            backward = one not in tees and other not in tees and stage[other] <= stage[one]
            label = line_label(run.line) if run.line is not None else ""
            dashed = ", style=dashed" if roles.run_role[wire.number, wire.runs.index(run)] == "signal" else ""
            rows.append(
                f"  {_quoted(one)}:{_quoted('p' + port)} -> {_quoted(other)}:{_quoted('p' + far)} "
                f'[label={_quoted(label)}, color="{tint[wire.circuit]}"{dashed}'
                f"{', constraint=false' if backward else ''}];"
            )
    for body in parts.bodies:
        for small in body.smalls:
            own = small.device.kind.ports[0].number
            host = small.device.host
            assert host is not None
            rows.append(f"  {_quoted(host[0])}:{_quoted('p' + host[1])} -> {_quoted(small.device.name)}:"
                        f"{_quoted('p' + own)} [style=dotted, constraint=false];")
    rows.append("}")
    return "\n".join(rows) + "\n"


def _table(device: Device) -> str:
    left = [p.number for p in device.kind.ports if p.role in (Role.SUPPLY, Role.CONTROL, Role.SPACE, Role.END)]
    right = [p.number for p in device.kind.ports if p.role is Role.DELIVERY]
    below = [p.number for p in device.kind.ports if p.role is Role.EXHAUST]
    words = [f"<B>{_html(device.name)}</B>", _html(device.kind.title), *(_html(line) for line in figures(device))]
    cells = [
        "<TD>" + ('<TABLE BORDER="0" CELLSPACING="2">' + "".join(
            f'<TR><TD PORT="p{_html(number)}" BORDER="1">{_html(number)}</TD></TR>' for number in side) + "</TABLE>"
            if side else "") + "</TD>"
        for side in (left, right)
    ]
    foot = "".join(f'<TR><TD COLSPAN="3" PORT="p{_html(number)}">{_html(number)} exhaust</TD></TR>' for number in below)
    return (f'<TABLE BORDER="1" CELLBORDER="0" CELLSPACING="0"><TR>{cells[0]}<TD>{"<BR/>".join(words)}</TD>{cells[1]}'
            f"</TR>{foot}</TABLE>")


def _quoted(words: str) -> str:
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ") + '"'


def _html(words: str) -> str:
    return words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
