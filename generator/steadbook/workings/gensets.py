"""All that is worked out of the gensets: output here, exhaust, air of the shed, gas lines, CO."""

from __future__ import annotations

from dataclasses import dataclass

from steadbook.figures import carbon_monoxide
from steadbook.inventory.homestead import Homestead
from steadbook.workings.engine_output import EngineOutput, engine_outputs, output_figures
from steadbook.workings.exhausts import Exhaust, exhaust_figures, exhausts
from steadbook.workings.figure import Figure
from steadbook.workings.gas_lines import LineCheck, line_checks, line_figures
from steadbook.workings.shed_air import ShedAir, air_figures, shed_airs


@dataclass(frozen=True)
class EngineState:
    """The gensets of the place."""

    outputs: tuple[EngineOutput, ...]
    exhausts: tuple[Exhaust, ...]
    sheds: tuple[ShedAir, ...]
    lines: tuple[LineCheck, ...]
    limits: tuple[carbon_monoxide.Limit, ...]
    alarm_points: tuple[carbon_monoxide.AlarmPoint, ...]
    figures: tuple[Figure, ...]

    @property
    def air(self) -> bool:
        """Whether anything is known of an exhaust or a shed."""
        return bool(self.exhausts or self.sheds)


def engine_state(homestead: Homestead) -> EngineState:
    """Every genset."""
    outputs = engine_outputs(homestead)
    pipes = exhausts(homestead)
    sheds = shed_airs(homestead)
    lines = line_checks(homestead)
    return EngineState(
        outputs=tuple(outputs),
        exhausts=tuple(pipes),
        sheds=tuple(sheds),
        lines=tuple(lines),
        limits=carbon_monoxide.LIMITS,
        alarm_points=carbon_monoxide.ALARM_POINTS,
        figures=(
            *output_figures(homestead, outputs),
            *exhaust_figures(homestead, pipes),
            *air_figures(homestead, sheds),
            *line_figures(homestead, lines),
        ),
    )
