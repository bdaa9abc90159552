"""From the files to the schedule: the time grows with the log, not with its square."""

import pytest
from tests.conftest import AS_OF, HOME

from steadbook.inventory import read_inventory
from steadbook.workings import work_out

TASKS = 10


def written(folder, machines, entries):
    """A home with so many log entries, nine readings to each service."""
    (folder / "log").mkdir(parents=True)
    for name, text in HOME.items():
        if name not in ("power.yaml", "log/2026.yaml"):
            (folder / name).write_text(text)
    lines = ["title: Power", "equipment:"]
    for machine in range(machines):
        lines += [
            f"  machine-{machine}:", "    kind: genset", f"    name: Machine {machine}",
            "    installed: 2020-01-01", "    meter: {installed_at: 0 h}", "    tasks:",
        ]  # fmt: skip
        for task in range(TASKS):
            covers = ", covers: [task-0]" if task == 9 else ""
            every = f"{50 * (task + 1)} h or {2 * (task + 1)} months"
            lines.append(f"      task-{task}: {{title: Task {task}, every: {every}{covers}}}")
    (folder / "power.yaml").write_text("\n".join(lines))
    each = entries // machines
    readings, services = ["readings:"], ["services:"]
    for machine in range(machines):
        for number in range(each):
            year, day = divmod(number * 2000 // each, 336)
            date = f"{2020 + year}-{1 + day // 28:02d}-{1 + day % 28:02d}"
            hours = f"hours: {number * 4000 // each} h"
            if number % 10 == 9:
                task = f"task-{number // 10 % TASKS}"
                services.append(
                    f"  - {{date: {date}, machine: machine-{machine}, tasks: [{task}], {hours}}}"
                )
            else:
                readings.append(f"  - {{date: {date}, machine: machine-{machine}, {hours}}}")
    (folder / "log" / "all.yaml").write_text("\n".join(readings + services))
    return folder


@pytest.mark.parametrize("machines", [10, 1_000])
def test_ten_times_the_log_takes_at_most_some_ten_times_as_long(tmp_path, machines, ratios):
    # with ten machines the log is all that counts; with a thousand their 10,000 tasks count too
    homes = [
        written(tmp_path / str(many) / "site_data", machines, many)
        for many in (1_000, 10_000, 100_000)
        if many >= machines
    ]

    def due(home):
        return work_out(read_inventory(home, as_of=AS_OF), AS_OF)

    workings = due(homes[-1])
    log = workings.homestead.log
    assert len(log.readings) + len(log.services) == 100_000
    assert len(workings.tasks) == machines * TASKS and workings.visits
    what = f"reading and schedule of {machines:,} machines, 100,000 entries"
    ratios.growth(what, [lambda home=home: due(home) for home in homes], bound=13)
    ratios.memory(what, lambda: due(homes[-1]))
