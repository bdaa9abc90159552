"""What the keys of a data plate look like in a usual machine of each kind: examples to overwrite.

Plausible sizes of the trade (common practice, no source); no machine is meant. The first of two is
for a place that prefers US units, the second for a metric one.
"""

from __future__ import annotations

Example = str | tuple[str, str]

_SUPPLY = ("120 V", "230 V")
_ENGINE: dict[str, Example] = {"tank": ("0.9 gal", "3.5 L"), "mix": "50"}
_GENSET: dict[str, Example] = {
    "power": "8 kW", "surge": "9 kW", "speed": ("1800 rpm", "1500 rpm"),
    "fuel_at_half_load": ("0.6 gal/h", "2.2 L/h"), "fuel_at_full_load": ("1.0 gal/h", "3.8 L/h"),
    "displacement": ("61 in3", "1000 cm3"), "cylinders": "2", "exhaust_limit": ("20 inH2O", "5 kPa"),
    "rated_elevation": ("500 ft", "150 m"), "rated_temperature": ("77 degF", "25 °C"),
    "life": "10000 h", "starter_capacity": "60 Ah", "starter_cranking": "500 A",
    "starter_drain": "0.03 A",
}  # fmt: skip
_BANK: dict[str, Example] = {
    "voltage": "24 V", "capacity": "400 Ah", "strings": "1", "cells_in_series": "12",
    "absorption": "28.8 V", "float": "27.0 V", "equalise": "31.2 V", "full_gravity": "1.265",
    "floor": "50 %", "overcharge": "18 %", "shelf_life": "10 years",
}  # fmt: skip
_STORE: dict[str, Example] = {
    "capacity": ("55 gal", "200 L"), "count": "1", "diameter": ("23 in", "58 cm"),
    "length": ("35 in", "89 cm"), "reserve": "20 %", "order_at": "40 %",
    "daily_use": ("50 gal", "200 L"),
}  # fmt: skip
_FILTER: dict[str, Example] = {
    "rated_volume": ("10000 gal", "40000 L"),
    "daily_use": ("50 gal", "200 L"),
    "largest_loss": ("10 psi", "0.7 bar"),
}
_HEATER: dict[str, Example] = {
    "power": "0.1 kW",
    "starting": "0.3 kW",
    "input": ("40000 Btu/h", "12 kW"),
}

KINDS: dict[str, dict[str, Example]] = {
    "well pump": {
        "power": "1 kW", "starting": "3 kW", "voltage": ("230 V", "230 V"),
        "shaft_power": ("1 hp", "0.75 kW"), "code_letter": "K",
        "flow": ("8 gal/min", "30 L/min"), "casing": ("6 in", "150 mm"),
        "well_depth": ("200 ft", "60 m"), "pump_depth": ("180 ft", "55 m"),
        "pumping_level": ("120 ft", "36 m"), "lift": ("130 ft", "40 m"),
        "pressure": ("40 psi", "2.8 bar"), "pipe_length": ("250 ft", "75 m"),
        "pipe_bore": ("1.05 in", "26 mm"), "plumbing": ("80 gal", "300 L"),
        "daily_use": ("50 gal", "200 L"),
    },
    "pressure tank": {
        "capacity": ("44 gal", "170 L"), "pump_flow": ("8 gal/min", "30 L/min"),
        "shortest_run": "1 min",
    },
    "tank": _STORE,
    "water filter": _FILTER,
    "uv lamp": {"power": "40 W", "voltage": _SUPPLY, "life": "9000 h", "hours_a_day": "24 h"},
    "load": _HEATER,
    "water line": {
        "length": ("300 ft", "90 m"), "bore": ("1.05 in", "26 mm"), "outside": ("1.3 in", "32 mm"),
        "fall": ("30 ft", "9 m"), "outlet_pressure": ("10 psi", "0.7 bar"),
        "insulation": ("1 in", "25 mm"), "exposed": ("20 ft", "6 m"), "buried": ("4 ft", "1.2 m"),
    },
    "septic tank": {
        "capacity": ("1000 gal", "3800 L"), "people": "2", "occupancy": "100 %",
        "liquid_depth": ("48 in", "120 cm"), "outlet_bottom": ("16 in", "40 cm"),
        "daily_use": ("100 gal", "400 L"),
    },
    "stove": {
        "firebox": ("2.2 ft3", "60 L"), "log": ("18 in", "45 cm"), "efficiency": "70 %",
        "cord_weight": ("2900 lb", "1300 kg"), "moisture": "18 %",
    },
    "chimney": {
        "diameter": ("6 in", "150 mm"), "height": ("18 ft", "5.5 m"), "roof_slope": "30 deg",
        "to_ridge": ("8 ft", "2.4 m"), "above_roof": ("4 ft", "1.2 m"),
    },
    "regulator": {"outlet": ("11 inH2O", "2.7 kPa"), "life": "15 years"},
    "genset": _GENSET,
    "battery bank": _BANK,
    "inverter": {"power": "4 kW", "surge": "8 kW", "charge_current": "70 A"},
    "array": {"power": "3 kW", "tilt": "60 deg", "azimuth": "180 deg", "modules": "8"},
    "alarms": {"life": "10 years"},
    "stored water": {
        "volume": ("60 gal", "230 L"), "people": "2", "days": "14", "animals": ("2 gal", "8 L"),
    },
    "small engine": _ENGINE,
    "roof": {"design_load": ("40 psf", "2 kPa"), "slope": "30 deg", "tube": ("3 in", "75 mm")},
}  # fmt: skip
"""By `kind:`, then by key."""

STARTERS: dict[str, dict[str, Example]] = {
    "cistern": {"capacity": ("1500 gal", "6000 L"), "diameter": ("7 ft", "2.2 m"),
                "length": ("6 ft", "1.8 m")},
    "propane-tank": {"capacity": ("500 gal", "1900 L"), "diameter": ("37 in", "95 cm"),
                     "length": ("10 ft", "3 m")},
    "diesel-store": {"capacity": ("275 gal", "1000 L"), "diameter": ("38 in", "97 cm"),
                     "length": ("5 ft", "1.5 m")},
    "sealed-battery-bank": {"chemistry": "AGM", "absorption": "28.8 V", "equalise": ""},
    "lfp-battery-bank": {"cells_in_series": "8", "absorption": "28.0 V", "float": "27.0 V",
                         "equalise": "", "full_gravity": "", "floor": "15 %", "overcharge": "5 %"},
    "chainsaw": {"fuel": "gasoline without ethanol", "tank": ("16 fl oz", "0.5 L")},
    "tractor": {"fuel": "diesel", "mix": "", "tank": ("8 gal", "30 L")},
    "utility-vehicle": {"mix": "", "tank": ("8 gal", "30 L")},
    "snow-blower": {"mix": ""},
    "water-pump": {"mix": ""},
    "pressure-washer": {"mix": ""},
    "water-heater": {"power": "1.5 kW", "starting": ""},
    "brush-clearing": {
        "distances": ("{first: {measured: 40 ft, least: 30 ft, source: the local code}}",
                      "{first: {measured: 12 m, least: 10 m, source: the local code}}"),
    },
}  # fmt: skip
"""By starter, before its kind; an empty text leaves the key out."""


def plate_example(starter: str, kind: str, key: str, prefer: str) -> str | None:
    """The example of a key in the units preferred, "" where such a machine has none, else None."""
    found = STARTERS.get(starter, {}).get(key)
    found = KINDS.get(kind, {}).get(key) if found is None else found
    return found[prefer == "metric"] if isinstance(found, tuple) else found
