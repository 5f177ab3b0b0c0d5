"""How a section picture looks: colours on paper and on a dark screen, hatching, dots, and the arrow's head.

Neighbouring tints of air were told apart by simulated eyes without one kind of cone; dots say the same without colour.
"""

from collections.abc import Mapping

INK = {
    "light": {"ink": "#16191d", "paper": "#ffffff", "quiet": "#4c535b", "hatch": "#9aa1a9", "part": "#33393f", "steel": "#c3c9d0",
              "green": "#00682f", "air": ("#ffffff", "#fbe7b0", "#f0ae8a", "#c084b4", "#7187c6"), "bed": "#d9c9a3"},
    "dark": {"ink": "#f1f3f5", "paper": "#16191d", "quiet": "#b9c0c8", "hatch": "#5a626b", "part": "#c3c9d0", "steel": "#6b737c",
             "green": "#6fe39b", "air": ("#16191d", "#57430f", "#80391a", "#7a2f6c", "#3a54b4"), "bed": "#6d5f3d"},
}
_DOTS = ((0.0, 0.0), (13.0, 1.3), (9.5, 1.4), (7.0, 1.5), (5.2, 1.65))
"""Pitch and radius of the dots of each band, px: the denser the more air."""


def definitions(prefix: str, colours: Mapping[str, object]) -> str:
    """Patterns, the arrow's head, and the looks."""
    air = colours["air"]
    assert isinstance(air, tuple)
    rows = []
    for number, (tint, (pitch, radius)) in enumerate(zip(air, _DOTS)):
        size = pitch or 10
        dots = "".join(f'<circle cx="{size * x:g}" cy="{size * y:g}" r="{radius}" class="dot"/>' for x, y in
                       ((0.25, 0.25), (0.75, 0.75))) if pitch else ""
        rows.append(f'<pattern id="{prefix}a{number}" width="{size:g}" height="{size:g}" patternUnits="userSpaceOnUse">'
                    f'<rect width="{size:g}" height="{size:g}" fill="{tint}"/>{dots}</pattern>')
    for name, pitch, turn, line in (("m", 8, 45, "hatch"), ("p", 4.5, -45, "part")):
        rows.append(f'<pattern id="{prefix}{name}" width="{pitch}" height="{pitch}" patternUnits="userSpaceOnUse" '
                    f'patternTransform="rotate({turn})"><rect width="{pitch}" height="{pitch}" fill="{colours["paper"]}"/>'
                    f'<path d="M0 0V{pitch}" stroke="{colours[line]}" stroke-width="1.3"/></pattern>')
    rows.append(f'<pattern id="{prefix}b" width="6" height="6" patternUnits="userSpaceOnUse"><rect width="6" height="6" '
                f'fill="{colours["bed"]}"/><g fill="none" stroke="{colours["part"]}" stroke-width=".7">'
                '<circle cx="2" cy="2" r="1.5"/><circle cx="5" cy="5" r="1.2"/></g></pattern>')
    rows.append(f'<marker id="{prefix}head" viewBox="0 0 10 10" refX="8.5" refY="5" markerWidth="12" markerHeight="12" '
                f'markerUnits="userSpaceOnUse" orient="auto"><path d="M0 0L10 5L0 10Z" fill="{colours["green"]}" '
                f'stroke="{colours["paper"]}" stroke-width=".8"/></marker>')
    return f"<defs>{''.join(rows)}</defs>\n<style>{style(prefix, colours)}</style>"


def style(prefix: str, colours: Mapping[str, object]) -> str:
    """The looks as rules."""
    ink, paper, quiet, green = (colours[name] for name in ("ink", "paper", "quiet", "green"))
    looks = {
        ".ground": f"fill:{paper}", ".metal": f"fill:url(#{prefix}m);stroke:{ink};stroke-width:1.6",
        ".wall": f"fill:none;stroke:{ink};stroke-width:3;stroke-linejoin:round",
        ".part": f"fill:url(#{prefix}p);stroke:{ink};stroke-width:1.8;stroke-linejoin:round",
        ".steel": f"fill:{colours['steel']};stroke:{ink};stroke-width:1.4;stroke-linejoin:round",
        ".rubber,.ink": f"fill:{ink};stroke:{ink};stroke-width:.6", ".paper": f"fill:{paper};stroke:{ink};stroke-width:1.4",
        ".bed": f"fill:url(#{prefix}b);stroke:{ink};stroke-width:1.4",
        ".membrane": f"fill:none;stroke:{ink};stroke-width:5;stroke-linejoin:round;stroke-linecap:round",
        ".spring": f"fill:none;stroke:{ink};stroke-width:1.8;stroke-linejoin:round",
        ".line": f"fill:none;stroke:{ink};stroke-width:1.4", ".dot": f"fill:{ink};fill-opacity:.55",
        ".axis": f"fill:none;stroke:{quiet};stroke-width:1;stroke-dasharray:10 3 2 3",
        ".casing": f"fill:none;stroke:{paper};stroke-width:7;stroke-linejoin:round",
        ".stream": f"fill:none;stroke:{green};stroke-width:3;stroke-linejoin:round",
        ".leader": f"fill:none;stroke:{ink};stroke-width:.9", "circle.shut": f"fill:{ink};stroke:{paper};stroke-width:1.2",
        "circle.open": f"fill:{paper};stroke:{green};stroke-width:2", "text": f"fill:{ink}",
        "text.quiet": f"fill:{quiet};stroke:{paper};stroke-width:3;paint-order:stroke;stroke-linejoin:round",
        "text.open": f"fill:{green}",
    }
    return "".join(f"{','.join(f'.section {each}' for each in name.split(','))}{{{rules}}}" for name, rules in looks.items())
