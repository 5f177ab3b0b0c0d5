"""The flow law's own promises: the smooth zone, both directions, lines in pieces, the compressor's dead space."""

from math import sqrt

import pytest

from circuit.gas.compressor import volumetric_efficiency
from circuit.gas.flow import from_area, mass_flow, piece, share, shares, tube


@pytest.mark.parametrize("length", [2.0, 3.002, 4.0, 6.0, 9.0, 9.3, 14.0, 40.0])
def test_a_line_is_cut_into_pieces_that_make_it_up(length):
    parts = shares(length)
    assert sum(parts) == pytest.approx(1.0, abs=1e-12) and parts == pytest.approx(parts[::-1], rel=1e-12)
    assert len(parts) == {2.0: 1, 3.002: 3, 4.0: 3, 6.0: 3, 9.0: 3, 9.3: 5, 14.0: 5, 40.0: 7}[length]


@pytest.mark.parametrize("length", [2.0, 3.0, 4.4, 7.0, 9.0, 10.1, 13.0, 15.0, 20.0])
def test_where_a_line_is_cut_does_not_jump_with_its_length(length):
    def cuts(length):
        """m from the middle of the line; a piece that is not there yet is one of no length at the end."""
        parts = shares(length)
        found = [sum(parts[:k]) * length - length / 2 for k in range(len(parts) + 1)]
        return [found[0]] * ((7 - len(parts)) // 2) + found + [found[-1]] * ((7 - len(parts)) // 2)

    for more in (1e-3, 2e-3, 3e-3):
        assert cuts(length + more) == pytest.approx(cuts(length), abs=2.6 * more)


@pytest.mark.parametrize("bore, length", [(4.32e-3, 5.0), (6.38e-3, 8.0), (9.55e-3, 3.2), (9.55e-3, 4.5), (9.55e-3, 9.0)])
def test_pieces_in_a_row_pass_what_the_whole_passes(bore, length):
    whole, ratio = tube(bore, length)
    row = [piece(bore, length, share) for share in shares(length)]
    for end in (0.15, 0.4, 0.7, 0.9, 0.98):
        target = mass_flow(whole, ratio, 1e6, end * 1e6, laminar=0.0)

        def last(flow):
            """The pressure behind the row when it passes `flow`, or 0 where it cannot."""
            p = 1e6
            for own, own_ratio in row:
                if mass_flow(own, own_ratio, p, 0.0, laminar=0.0) <= flow:
                    return 0.0
                low, high = own_ratio * p, p
                for _ in range(60):
                    middle = (low + high) / 2
                    low, high = (
                        (middle, high) if mass_flow(own, own_ratio, p, middle, laminar=0.0) > flow else (low, middle)
                    )
                p = low
            return p

        low, high = 0.5 * target, 1.5 * target
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if last(middle) > end * 1e6 else (low, middle)
        assert 0.999 < low / target < 1.06


def test_the_smooth_zone_changes_little_and_ends_at_nothing():
    for r in (0.35, 0.5, 0.8):
        assert share(r, 0.3) == pytest.approx(share(r, 0.3, laminar=0.0), rel=0.006)
    assert share(1.0, 0.3) == 0.0
    assert share(1 - 1e-9, 0.3) == pytest.approx(1e-9 * 2 / 0.7 * sqrt(1.01 / 0.01), rel=1e-3)


def test_flow_is_the_same_both_ways_and_none_between_equals():
    assert mass_flow(1e-8, 0.3, 5e5, 3e5) == -mass_flow(1e-8, 0.3, 3e5, 5e5) > 0
    assert mass_flow(1e-8, 0.3, 5e5, 5e5) == 0


def test_a_square_millimetre():
    assert from_area(1e-6) * 1e8 == pytest.approx(1 / 5.02, rel=1e-3)  # ISO 6358: S in mm2 is 5.02 C in L/(s bar)


def test_the_dead_space_takes_its_toll():
    assert volumetric_efficiency(1.0, 0.05) == 1.0
    assert volumetric_efficiency(8.0, 0.05, 0.85) < volumetric_efficiency(4.0, 0.05, 0.85) < 0.85
