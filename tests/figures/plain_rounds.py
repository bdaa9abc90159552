"""The plan of weekends as first written: slow and plain, to compare the quick one with."""

from dataclasses import dataclass, field
from datetime import date, timedelta

from steadbook.figures.rounds import NO_ROOM, NO_WEEKEND, TOO_LONG, Job, saturdays


@dataclass
class Slot:
    saturday: date
    jobs: list[Job] = field(default_factory=list)

    @property
    def minutes(self):
        return sum(job.minutes for job in self.jobs)


def plain_plan(jobs, begin, end, hours, gather):
    """The keys of the jobs of each weekend, and why the others found no room."""
    slots = [Slot(saturday) for saturday in saturdays(begin, end)]
    queue = sorted(
        jobs, key=lambda job: (len(window(job, slots)), -job.minutes, job.latest, job.key)
    )
    reasons = {job.key: place(job, slots, hours * 60, gather) for job in queue}
    return (
        {slot.saturday: {job.key for job in slot.jobs} for slot in slots},
        {key: reason for key, reason in reasons.items() if reason},
    )


def window(job, slots):
    sunday = timedelta(days=1)
    inside = [s for s in slots if job.earliest <= s.saturday + sunday and s.saturday <= job.latest]
    if inside:
        return inside
    before = [slot for slot in slots if slot.saturday <= job.latest]
    return before[-1:] if before else slots


def place(job, slots, room, gather):
    if not slots:
        return NO_WEEKEND
    if job.minutes > room:
        return TOO_LONG
    free = [slot for slot in window(job, slots) if slot.minutes + job.minutes <= room]
    if not free:
        return "" if make_room(job, slots, room) else NO_ROOM
    if job.latest < slots[0].saturday:
        free[0].jobs.append(job)
        return ""
    least = min(slot.minutes for slot in free)
    near = [slot for slot in free if slot.minutes <= least + gather]

    def preference(slot):
        passes = any(other.place == job.place for other in slot.jobs)
        return not passes, slot.minutes, slot.saturday

    min(near, key=preference).jobs.append(job)
    return ""


def make_room(job, slots, room):
    for slot in sorted(window(job, slots), key=lambda slot: (slot.minutes, slot.saturday)):
        lacking = slot.minutes + job.minutes - room
        for other in sorted(slot.jobs, key=lambda other: (other.minutes, other.key)):
            if other.minutes < lacking:
                continue
            for target in window(other, slots):
                if target is not slot and target.minutes + other.minutes <= room:
                    slot.jobs.remove(other)
                    target.jobs.append(other)
                    slot.jobs.append(job)
                    return True
    return False
