"""The words of the trade and of this library: one table of name, unit and meaning.

A name that figures share is here before it is in a signature, with the unit that it has there; the
glossary of the manual is made from it. In a signature the spaces of a name are underscores.
"""

from __future__ import annotations

from typing import NamedTuple


class Term(NamedTuple):
    """A name, the units it has in signatures (none: a word, a plain number), and what it means."""

    name: str
    units: tuple[str, ...]
    meaning: str


def _terms(table: str) -> tuple[Term, ...]:
    rows = ([cell.strip() for cell in row.split("|")] for row in table.splitlines() if row.strip())
    return tuple(sorted(Term(name, tuple(unit.split()), meaning) for name, unit, meaning in rows))


NOMENCLATURE = _terms("""\
absorption | | Second stage of charging: voltage held, current falling as the bank fills
acceptance | | Share of a pressure tank's volume that water fills between cut-in and cut-out
air | degC | Temperature of the air around a thing
altitude | m | Height above sea level
arrays | | The solar arrays of the place, each with its own aim
azimuth | deg | Direction a panel faces, from north, eastward
back order | | An order that the supplier cannot fill yet
back pressure | | What an exhaust holds against the engine
break-in | | First, shorter service interval of a new engine
bulk | | First stage of charging: full current until the absorption voltage is reached
burn rate | L/h | Fuel burned in an hour
calendar time | | Days, weeks, months and years as the calendar counts them
capacity | A*h L | What a battery or tank holds; of a battery at the 20 h rate
chemistry | | Kind of battery: flooded, AGM, gel, LFP
clearness | | Share of the light above the air that reaches the ground
conductivity | W/(m*K) | How well heat goes through a stuff
current | A | Electric current
cut-in | kPa | Pressure at which a pump's switch turns it on
cut-out | kPa | Pressure at which it turns it off
daily use | L L/d 1/day | What is used on one day
day | | A day of the calendar, or its number in the year
days | d | A number of days
degree days | K*d | Warmth that a building wants: degrees below a base, added up by days
density | kg/m3 | Mass of a volume
depth of discharge | | Share of the capacity taken out
derating | | Power lost to height and heat
diameter | mm | Across a pipe, a tank, a bolt
drain | A | What a system draws all the time
drawdown | L | Water from cut-out to cut-in without the pump; of a well, how far its level falls
edition | | The manual as made for one reader: owner, sitter, technician
effective sheets | | List of the sheets that are valid, each with its date
efficiency | | What comes out as a share of what goes in
equalise | | Charge a full flooded bank on, above absorption, to even out its cells
fill | % | Level of a tank as a share of its water capacity
fingerprint | | Mark made from what a sheet shows; it changes when the sheet does
float | | Third stage of charging: a low voltage that keeps the bank full
floor | | State of charge at which the inverter cuts out
flow | L/min m3/h m3/min | Volume that passes in a time
full gravity | | Specific gravity of a full cell
gap | | Distance between two parts, as of a spark plug
gauge | % | What the tank's gauge shows
genset | | The engine-driven machine that makes electricity
grade | | Strength class of a bolt
head | m | Pressure as the height of a column of water
heat loss | W/K | Heat a building loses for each degree between inside and outside
heating value | MJ/L | Heat of burning a volume of fuel
height | m | From bottom to top, or above the sea
highest | % | Level to which a tank may be filled
hour angle | deg | How far the sun is past noon, 15 degrees an hour
hour meter | | Counts the hours that an engine has run
hours | h h/d | Running hours, or a length of time
inventory | | The files of the place: machines, shelf, log
lash | | Play in a valve train
latitude | deg | North of the equator
lead time | day | From order to receipt
length | m mm | From end to end
load | kW kPa | Power drawn; of a roof, weight on an area
low water cut-off | | Stops a pump before it runs dry
lump | h | How much a machine runs at a time, as its meter shows
mark | L | A level or charge not to be fallen below
method | | Which of several published ways is used
moisture | | Share of water in wood, of its dry mass
months | months | Months of the year, or how many
nominal voltage | V | The voltage by which a bank is named
night use | A*h | Charge taken from the bank between sunset and sun
people | | How many live there
plant | | Bank, inverter, genset and arrays taken together
power | kW W W/m | Energy in a time
precharge | kPa | Air pressure of an empty pressure tank
pressure | kPa | Force on an area
private | | What only the owner's edition shows
rating | kW | Power for which a machine is made
record of revisions | | List of what was changed in a binder, and when
reorder point | | Amount on the shelf at which more is ordered
reserve | % | Level kept back in a tank
rest | | Time without charge or load, before voltage tells the state of charge
revision date | | Day on which what a sheet shows last changed
round | | Looks and readings that come daily, weekly or monthly
run rule | | When the genset is started and stopped to charge the bank
safety stock | | Kept beyond mean use, so that the shelf seldom runs out
season | d | Part of the year
share | | A part of a whole, 0 to 1
shut-off | | Valve, breaker or switch that stops something
specific gravity | | Density of battery acid against that of water
spread | | By how much single cases differ: standard deviation
state of charge | | What is in a battery as a share of its capacity
sun declination | deg | How far north of the equator the sun stands
sunset | deg | Hour angle of the setting sun
surge | | Power for a few seconds, as a motor starts
taper | | The fall of the charge current as a bank fills
temperature | degC | How warm
thread | | Size and pitch of a screw
throughput | A*h | Charge taken out of a battery, added up over time
tilt | deg | Of a panel, from level
torque | | Turning force on a fastener
usable fuel | L | Fuel above the level at which the tank stops feeding, or above the reserve
visit | | Tasks that are done on one day
voltage | V | Electric tension
volume | L m3 | How much room something takes
water capacity | L | What a tank would hold if filled to the brim with water
whichever first | | Of two limits the one that is reached sooner counts
working | | How a figure was found, with its numbers, the lines they came from and its source
""")
