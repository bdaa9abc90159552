"""What every object of the inventory is made of: unknown keys refused, private parts kept apart."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from steadbook.inventory.fields import Date, Line, Money, Text


class Model(BaseModel):
    """An object of the inventory. Unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class Grant(Model):
    """For whom and on which days a private text is shown."""

    to: Literal["sitter", "technician"] = Field(description="Which edition shows it")
    first_day: Date = Field(description="The first day on which it is shown")
    last_day: Date = Field(description="The last day on which it is shown")


class Private(BaseModel):
    """What only the owner may see: left out of every other edition before it is made."""

    model_config = ConfigDict(extra="allow", frozen=True, defer_build=True)

    price: Money | None = Field(None, description="Price paid")
    replacement: Money | None = Field(None, description="What another one costs today")
    account: Line | None = Field(None, description="Account or customer number")
    code: Line | None = Field(None, description="Gate, lock or alarm code")
    serial: Line | None = Field(None, description="Serial number")
    notes: Text | None = Field(None, description="Notes for the owner alone")
    visible: dict[Line, Grant] = Field(
        default_factory=dict,
        description="Which of these texts another edition shows for some days, never a price",
    )


class Owned(Model):
    """An object that may have a private part and notes."""

    notes: Text | None = Field(None, description="Notes for every reader")
    private: Private | None = Field(None, description="What only the owner's edition shows")
