"""Bores of steel pipe."""

from __future__ import annotations

from steadbook.figures._factors import INCH

SCHEDULE_40 = {
    "1/2": 0.622 * INCH,
    "3/4": 0.824 * INCH,
    "1": 1.049 * INCH,
    "1-1/4": 1.380 * INCH,
    "1-1/2": 1.610 * INCH,
    "2": 2.067 * INCH,
    "2-1/2": 2.469 * INCH,
    "3": 3.068 * INCH,
    "4": 4.026 * INCH,
}
"""Inside diameter by nominal size in inches. [mm] Source: ASME B36.10, schedule 40; the bores
are those printed in the sizing tables of the International Fuel Gas Code, 2018."""
