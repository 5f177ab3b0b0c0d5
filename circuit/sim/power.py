"""Powers, written out so that every machine gives the same last digit.

The libraries of different machines differ in the last places of a power, and then two runs of one circuit differ in their
steps. A logarithm by the series of the inverse hyperbolic tangent and an exponential by Taylor's, both on numbers
brought near 1 by their binary exponent, need only the four operations, which are exact to the last digit everywhere.
"""

from math import frexp, ldexp

LN2_HIGH = 0.6931471803691238
"""The natural logarithm of 2 in two parts: the first has zeros at its end, so that a whole number times it is exact."""
LN2_LOW = 1.9082149292705877e-10


def exponent_of(x: float) -> int:
    """n, for x = m 2^n with m from 0.5 to 1. x: above 0 and no less than 2.3e-308."""
    return frexp(x)[1]


def scaled(x: float, n: int) -> float:
    """x times 2^n. n: -1000 to 1000."""
    return ldexp(x, n)


def power(x: float, y: float) -> float:
    """x to the power of y, to some 4 + |y ln x| units in the last place. x: 1e-300 to 1e300. |y ln x|: up to 600.

    >>> round(power(2.0, 0.5), 14), power(8.0, -1.0 / 3.0)
    (1.41421356237309, 0.5)
    """
    n = exponent_of(x)
    m = scaled(x, -n)
    if m < 0.7071067811865476:
        m = m * 2.0
        n = n - 1
    s = (m - 1.0) / (m + 1.0)
    q = s * s
    series = q * (1.0 / 3.0 + q * (0.2 + q * (1.0 / 7.0 + q * (1.0 / 9.0 + q * (1.0 / 11.0 + q * (
        1.0 / 13.0 + q * (1.0 / 15.0 + q * (1.0 / 17.0 + q * (1.0 / 19.0 + q / 21.0)))))))))
    logarithm = y * (n * LN2_LOW + 2.0 * (s + s * series)) + y * n * LN2_HIGH
    times = int(logarithm * 1.4426950408889634 + (0.5 if logarithm >= 0.0 else -0.5))
    r = logarithm - times * LN2_HIGH - times * LN2_LOW
    grown = 1.0 + r * (1.0 + r * (1.0 / 2.0 + r * (1.0 / 6.0 + r * (1.0 / 24.0 + r * (1.0 / 120.0 + r * (
        1.0 / 720.0 + r * (1.0 / 5040.0 + r * (1.0 / 40320.0 + r * (1.0 / 362880.0 + r * (1.0 / 3628800.0 + r * (
            1.0 / 39916800.0 + r * (1.0 / 479001600.0 + r / 6227020800.0))))))))))))
    return scaled(grown, times)


FUNCTIONS = (power,)
"""What is compiled of this file; the two others are single steps of the machine."""
