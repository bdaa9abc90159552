"""Print generator/steadbook/units/factors.py, made from pint. Run it when a unit is added."""

from decimal import Decimal, getcontext

import pint

from steadbook.units.spelling import UNITS

getcontext().prec = 40
r = pint.UnitRegistry(non_int_type=Decimal)
names = {
    "kilogram": "kg",
    "meter": "m",
    "second": "s",
    "ampere": "A",
    "kelvin": "K",
    "radian": "rad",
}


def dim(q):
    d = q.unit_items() if hasattr(q, "unit_items") else []
    return " ".join(f"{names[k]}{'' if v == 1 else int(v)}" for k, v in sorted(d))


rows = []
for u, (expr, _) in UNITS.items():
    q = r.parse_expression(expr)
    b = (q if hasattr(q, "to_base_units") else r.Quantity(Decimal(q))).to_base_units()
    x = Decimal(str(b.magnitude)).normalize()
    x = (
        x.quantize(Decimal(10) ** (x.adjusted() - 24)).normalize()
        if len(x.as_tuple().digits) > 25
        else x
    )
    rows.append((u, format(x, "f") if -8 < x.adjusted() < 10 else str(x), dim(b)))
head = '''"""Every unit in SI base units, as a factor and a dimension.

Made from pint by ``python tests/make_factors.py > generator/steadbook/units/factors.py``, so that no start of the program waits for it to
load; a test holds each factor against pint, and others against published ones.
"""

from __future__ import annotations

# fmt: off
SI: dict[str, tuple[str, str]] = {
'''
print(head + "".join(f'    "{u}": ("{f}", "{d}"),\n' for u, f, d in rows) + "}\n# fmt: on")
