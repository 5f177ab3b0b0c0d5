"""How a section picture looks: colours on paper and on a dark screen, hatching, dots, and the arrow's head.

Neighbouring tints of air differ in lightness; dots, the denser the more air, say the same without colour.
"""

from collections.abc import Mapping

INK = {
    "light": {"ink": "#16191d", "paper": "#ffffff", "quiet": "#4c535b", "hatch": "#9aa1a9", "part": "#33393f", "steel": "#c3c9d0",
              "green": "#00682f", "bed": "#d9c9a3",
              "a0": "#ffffff", "a1": "#fbe7b0", "a2": "#f0ae8a", "a3": "#c084b4", "a4": "#7187c6"},
    "dark": {"ink": "#f1f3f5", "paper": "#16191d", "quiet": "#b9c0c8", "hatch": "#5a626b", "part": "#c3c9d0", "steel": "#6b737c",
             "green": "#6fe39b", "bed": "#4a3f24",
             "a0": "#16191d", "a1": "#57430f", "a2": "#80391a", "a3": "#7a2f6c", "a4": "#3a54b4"},
}
_DOTS = ((0.0, 0.0), (13.0, 1.3), (9.5, 1.4), (7.0, 1.5), (5.2, 1.65))
"""Pitch and radius of the dots of each band, px: the denser the more air."""


def definitions(prefix: str, theme: str, both: bool = False) -> str:
    """Patterns, the arrow's head, and the looks. both: light, and dark where the reader's screen is."""
    rows = []
    for number, (pitch, radius) in enumerate(_DOTS):
        size = pitch or 10
        dots = "".join(f'<circle cx="{size * at:g}" cy="{size * at:g}" r="{radius}" class="dot"/>' for at in (0.25, 0.75))
        rows.append(f'<pattern id="{prefix}a{number}" width="{size:g}" height="{size:g}" patternUnits="userSpaceOnUse">'
                    f'<rect width="{size:g}" height="{size:g}" class="a{number}"/>{dots if pitch else ""}</pattern>')
    for name, pitch, turn, line in (("m", 8, 45, "hatch"), ("p", 4.5, -45, "hatch dense")):
        rows.append(f'<pattern id="{prefix}{name}" width="{pitch}" height="{pitch}" patternUnits="userSpaceOnUse" '
                    f'patternTransform="rotate({turn})"><rect width="{pitch}" height="{pitch}" class="ground"/>'
                    f'<path d="M0 0V{pitch}" class="{line}"/></pattern>')
    grit = "".join(f'<circle cx="{x}" cy="{x}" r="{radius}" class="grit"/>' for x, radius in ((2, 1.5), (5, 1.2)))
    rows.append(f'<pattern id="{prefix}b" width="6" height="6" patternUnits="userSpaceOnUse">'
                f'<rect width="6" height="6" class="grain"/>{grit}</pattern>')
    rows.append(f'<marker id="{prefix}head" viewBox="0 0 10 10" refX="8.5" refY="5" markerWidth="12" markerHeight="12" '
                'markerUnits="userSpaceOnUse" orient="auto"><path d="M0 0L10 5L0 10Z" class="head"/></marker>')
    rules = style(prefix, INK[theme])
    if both:
        rules += f"@media (prefers-color-scheme:dark){{{style(prefix, INK['dark'])}}}"
    return f"<defs>{''.join(rows)}</defs>\n<style>{rules}</style>"


def style(prefix: str, colours: Mapping[str, str]) -> str:
    """The looks as rules."""
    ink, paper, quiet, green = (colours[name] for name in ("ink", "paper", "quiet", "green"))
    looks = {
        **{f".a{number}": f"fill:{colours[f'a{number}']}" for number in range(len(_DOTS))},
        ".hatch": f"stroke:{colours['hatch']};stroke-width:1.3", ".dense": f"stroke:{colours['part']}",
        ".grain": f"fill:{colours['bed']}", ".grit": f"fill:none;stroke:{colours['part']};stroke-width:.7",
        ".head": f"fill:{green};stroke:{paper};stroke-width:.8",
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
        "text.open": f"fill:{green};font-weight:bold",
    }
    return "".join(f"{','.join(f'.section {each}' for each in name.split(','))}{{{rules}}}" for name, rules in looks.items())
