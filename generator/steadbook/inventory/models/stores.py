"""Suppliers and the shelf: `suppliers.yaml` and `parts.yaml`."""

from __future__ import annotations

from pydantic import Field

from steadbook.inventory.fields import Amount, Calendar, Date, Line, Name, YesNo
from steadbook.inventory.models.base import Model, Owned


class Supplier(Owned):
    """Somebody who sells parts or fuel."""

    name: Line = Field(description="Name of the shop or person")
    sells: Line | None = Field(None, description="What is bought there")
    phone: Line | None = Field(None, description="Telephone number")
    email: Line | None = Field(None, description="Mail address")
    address: Line | None = Field(None, description="Where to write or drive to")
    lead_time: Calendar = Field(description="From order to receipt, as promised")
    needs_road: YesNo = Field(
        default=True,
        description="Whether what it sends comes only while the road is open (`road_closed:`); "
        "no: it can be fetched without the road",
    )


class Suppliers(Model):
    """`suppliers.yaml`."""

    suppliers: dict[Name, Supplier] = Field(description="Each supplier under a short name")


class Part(Owned):
    """Something kept on the shelf for the tasks."""

    name: Line = Field(description="What it is, as on the shelf's label")
    number: Line | None = Field(None, description="Part number")
    supplier: Name = Field(description="Who sells it, by its name in suppliers.yaml")
    alternatives: list[Line] = Field(
        default_factory=list, description="Other part numbers that fit"
    )
    on_hand: Amount = Field(description="How much was counted")
    counted: Date = Field(description="When it was counted")
    kept: Line | None = Field(None, description="Where it is kept")
    pack: Amount | None = Field(None, description="How much is in a package")


class Parts(Model):
    """`parts.yaml`."""

    parts: dict[Name, Part] = Field(description="Each part under a short name")
