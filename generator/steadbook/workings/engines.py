"""All that is worked out of the gensets: output here, exhaust, air of the shed, gas lines, cost."""

from __future__ import annotations

from dataclasses import dataclass

from steadbook.inventory.homestead import Homestead
from steadbook.workings.engine_output import EngineOutput, engine_outputs, output_figures
from steadbook.workings.figure import Figure


@dataclass(frozen=True)
class EngineState:
    """The gensets of the place."""

    outputs: tuple[EngineOutput, ...]
    figures: tuple[Figure, ...]


def engine_state(homestead: Homestead) -> EngineState:
    """Every genset."""
    outputs = engine_outputs(homestead)
    return EngineState(
        outputs=tuple(outputs),
        figures=tuple(output_figures(homestead, outputs)),
    )
