"""A job in which every table of the document is used."""

from __future__ import annotations

import pytest

FULL = """
schema = 1

[job]
title = "Maple on the garage"
site = "12 Hill Road"
owner = "R. Ames"
caller = "R. Ames"
date = 2026-03-28
lead = "A. Reyes"
crew = ["A. Reyes", "B. Holt"]
people_out = true
hospital = "County General"
notes = "Gate 4 ft wide.\\nDog next door."
utilities = [{ kind = "power", state = "live", distance = "35 ft" }, { kind = "gas" }]

[tree]
species = "silver maple"
density = "850 ± 50 kg/m3"
attached = "root plate"
bearing = "75 deg"
dbh = "36 in"
moisture_note = "sap wet"

[[tree.stem]]
at = "0 ft"
diameter = "40 in"
height = "2 ft 6 in"
offset = "0 ft"

[[tree.stem]]
at = "31 ft"
diameter = "22 in ± 1 in"
height = "11 ft"
offset = "-6 in"

[[tree.limb]]
id = "L1"
on = "stem"
at = "24 ft"
clock = 3
angle = "50 deg"
length = "18 ft"
diameter = "9 in"
tip_diameter = "2 in"
foliage = "leaf"

[[tree.limb]]
id = "L2"
on = "L1"
at = "6 ft"
clock = 9.5
angle = "40 deg"
length = "8..10 ft"
diameter = "4 in"
broken = true

[[tree.decay]]
from = "0 ft"
to = "6 ft"
readings = { "12" = "5 in", "3" = "4 in", "6.5" = "3 in" }

[[tree.decay]]
member = "L1"
from = "1 ft"
to = "3 ft"
shell = "2 in"

[tree.root_plate]
diameter = "9 ft"
thickness = "2 ft"
soil = "clay"

[[support]]
id = "ridge"
member = "stem"
at = "31 ft"
on = "roof"
normal = [0, 0.2, 1]
stiffness = "rigid"
friction = 0.4
limit = "9000 lb"
tolerance = "1 in"
feel = "hard"
width = "6 in"

[[support]]
id = "limb on lawn"
member = "L1"
at = "18 ft"
on = "ground"
normal = "up"
stiffness = "300 N/mm"
gap = "2 in"

[[line]]
id = "T1"
member = "stem"
at = "20 ft"
kind = "tie-back"
anchor = { forward = "5 ft", right = "-20 ft", height = "3 ft" }
limit = "2000 lbf"
pull = "200 lb"

[[building]]
id = "garage"
near = "18 ft"
far = "42 ft"
left = "12 ft"
right = "10 ft"
eave = "8 ft"
ridge = "12 ft"
ridge_runs = "along"
overhang = "1 ft"

[ground]
slope = "-3 deg"
surface = "lawn"
bearing = "1500 psf"

[[protect]]
id = "window"
kind = "window"
near = "17 ft"
far = "18 ft"
left = "10 ft"
right = "-6 ft"
height = "5 ft"

[[cut]]
member = "L1"
at = "0 ft"

[[done]]
what = "cut"
member = "L1"
at = "0 ft"
off = "tip side"
how = "lower on a line"

[[done]]
what = "prop"
id = "post"
member = "stem"
at = "20 ft"
jacked = "500 lbf"
limit = "4000 lbf"

[[reading]]
on = "ridge"
after = 1
force = "3000 lbf ± 10 %"
said = "jack shows 3,000"

[[reading]]
on = "post"
after = 2
settled = "1/4 in"
rose = false

[[reading]]
on = "L1"
mass = "210 lb"
together = ["L2"]

[handling]
hand = "80 lb"
drop = "500 lb"
drop_height = "6 ft"
roll = "600 lb"
line = "400 lb"
crane = "3000 lb"

[[prop]]
id = "own prop"
at = "9 ft"
jacked = "500 lb"

[[leave]]
member = "L1"
at = "6 ft"
until = "L2"

[[truck]]
section = "4x4"
length = "8 ft"
count = 6
species = "Douglas-fir"
grade = "No. 2"

[[truck]]
section = "round 8 in"
length = "7 ft"
count = 2

[limits]
share = 0.9
floor = "5 %"
movement = "2 in"
building = "12000 lb"
until = "the building is clear"
samples = 512
seed = 7

[standing]
height = "62 ft ± 2 ft"
crown_width = "40 ft"
crown_base = "18 ft"
crown_shape = "round"
crown_filled = "70 % ± 10 %"
crown_offset = "3 ft"
crown_towards = "E"
lean = "6 deg"
lean_towards = "80 deg"
sweep = "6 in"
season = "iced"
ice = "1/4 in"
terrain = "suburb"
wind_form = "EN"
design_gust = "90 mph"
design_gust_is = "mean"
wind_from = "SW"
neighbours = "lost"
shelter = "30 %"
rooting = "shallow"
soil_state = "saturated"
roots_lost = "25 %"
trench = "4 ft"
plate_diameter = "9 ft"
plate_depth = "30 in"

[inspection]
date = "2026-02-10"
inspector = "A. Reyes"
assignment = "Asked by R. Ames to look at the maple."
limits = "From the owner's side only."

[[inspection.observation]]
group = "stem"
what = "cavity opening"
state = "seen"
side = "NE"
height = "4 ft"
size = "7 in wide"
note = "old wound"
photo = ["12", "13"]

[[inspection.union]]
limb = "L1"
form = "codominant"
bark = "included"
split = "0 in"
note = "seam on the north side"
photo = ["15"]

[[inspection.test]]
id = "D1"
kind = "drilling"
height = "4 ft"
side = "S"
diameter = "34 in"
shell = "5 in"
note = "dry chips"
photo = ["14"]

[[inspection.test]]
kind = "drilling"
height = "7 ft"
shells = { N = "5 in", "135 deg" = "6 in" }

[[inspection.test]]
kind = "drilling"
height = "9 ft"
side = "W"
trace = "depth_mm,resistance\\n0,40\\n1,42\\n"

[[inspection.test]]
kind = "opening"
height = "4 ft"
side = "NE"
width = "7 in"

[[inspection.test]]
kind = "sounding"
height = "4 ft"
sound = "dull"

[[inspection.test]]
kind = "probe"
height = "4 ft"
depth = "15 in"

[[inspection.test]]
kind = "pull"
height = "25 ft"
pull = "2 kN"
tilt = "0.2 deg"

[[target]]
id = "garage"
what = "garage, seldom used"
distance = "20 ft"
towards = "E"
height = "12 ft"
occupancy = "occasional"
protection = "part"
movable = false

[rating]
part = "stem at 4 ft"
target = "garage"
failure = "possible"
impact = "medium"
consequences = "significant"
time_frame = "12 months"
reinspect = "2027-02-10"
why = "Shell thinnest on the wind side."

[[rating.pair]]
id = "L1 on the drive"
part = "L1"
target = "garage"
failure = "possible"
impact = "low"
consequences = "minor"
why = "Level, over the drive."

[[rating.left]]
option = "close the drive"
pair = "L1 on the drive"
failure = "possible"
impact = "very low"
consequences = "minor"

[[rating.option]]
id = "crown cut back"
kind = "reduce"
by = "20 %"
failure = "improbable"
impact = "medium"
consequences = "significant"
note = "Again in five years."
reinspect = "2031-02-10"

[[rating.option]]
id = "post under the limb"
kind = "prop"
part = "L1"
at = "4 ft"

[[rating.option]]
id = "close the drive"
kind = "move target"
target = "garage"

[failure]
kind = "union"
limb = "L1"
date = "2026-03-27"
height = "4 ft"
diameter = "34 in"
fell_towards = "E"
shells = { N = "5 in", S = "3 in" }
opening = "7 in"
opening_side = "NE"
roots_rotten = "10 %"
photo = ["20"]
exhibit = [{ what = "disc", kind = "wood", kept = "dry store", note = "labelled", photo = ["22"] }]
root = [
  { side = "W", diameter = "3 in", state = "rotten", photo = ["21"] },
  { side = "E", diameter = "9 in", state = "snapped" },
]
surface = "brash"
gust = "58 mph"
gust_is = "gust"
station = "airfield, 15:50"
station_distance = "6 mi"
wind_from = "SW"
evidence = ["photo 3", "disc from the break"]
opinion = "Broke at the old wound."

[notice]
to = ["A. Owner", "14 Mill Lane"]
sender = ["B. Writer"]
position = "By the gate, 3 ft from the fence."
ask = ["have the collar opened"]
answer_by = "2026-04-30"
contact = "555 0100"
enclosure = ["report"]

[[notice.delivery]]
date = "2026-04-01"
how = "by hand"
to = "A. Owner"
reference = "seen by C. Witness"

[[notice.reply]]
date = "2026-04-08"
by = "A. Owner"
how = "mail"
said = "Will have it looked at."
"""

FULL += """
[access]
start = { forward = "10 ft", right = "12 ft" }
state = "firm"
soil = "clay"
pressure = "12 psi"
owner_told = true
cut_again = false
splits = "2 ft"

[[access.leg]]
surface = "lawn"
length = "60 ft"
to = { forward = "-40 ft", right = "20 ft" }
slope = "2 deg"
width = "6 ft"
steps = 1
turn = "9 ft"

[[access.leg]]
surface = "pavement"
length = "25 ft"

[[access.gate]]
id = "side gate"
width = "42 in"
height = "7 ft"
at = { forward = "-20 ft", right = "16 ft" }

[[access.no_go]]
id = "tank"
kind = "septic"
near = "-20 ft"
far = "-12 ft"
left = "20 ft"
right = "-10 ft"

[[machine]]
name = "dolly"
runs_on = "wheels"
mass = "60 lb"
payload = "600 lb"
width = "30 in"
wheels = 2
tyre_width = "4 in"
tyre_diameter = "14 in"
tyre_pressure = "30 psi"
contact = "5 in"
count = 2
wheel_load = "330 lb"
longest = "5 ft"
turning = "6 ft"
pushed = true

[boards]
thickness = "1/2 in"
count = 24
length = "8 ft"
width = "4 ft"
lap = "1 ft"
laid = "lapped"
layers = 1

[[load]]
name = "chip truck"
payload = "7000 lb"
volume = "12..14 yd^3"
length = "10 ft"
takes = ["chips", "logs"]
tip = "42.00"
tip_by = "short ton"

[haul]
chipper = "6 in"
stays = ["chips"]

[crane]
chart = "radius_ft,capacity_lb\\n20,30500\\n30,18000\\n40,11500"
radius = "28 ft"
at = { forward = "4 ft", right = "24 ft" }
down = { forward = "-10 ft", right = "30 ft" }
hook = "500 lb"
slings = "100 lb"
stowed = "600 lb"
margin = "25 %"

[rigging]
rope = "12000 lbf"
rope_end = "splice"
rope_length = "40 ft"
fall = "2 ft"
run = "6 ft"
block = "4000 lbf"
block_angle = "30 deg"
wraps = 2.5
slings = 2
sling = "3000 lbf"
sling_angle = "60 deg"
hitch = "choker"

[rates]
currency = "$"
crew_hour = "185.00"
machine_hour = "60"
crane_hour = "240.50"
crane_least = "4 h"
crane_fixed = "380.00"
tip_load = "85.00"
sheet = "4.00"
tax = "7 %"
ceiling = "6,500.00"
set_up = "0.5..1..2 h"
secure = "25 min"
cut = "8 min"
lower = "15 min"
carry = "90 s"
trip = "5 min"
board = "1 min"
load = "35 min"
clean = "2 h"
left_out = "two new hands, half a day of rain"

[[rates.actual]]
step = "move"
planned = "2 h"
took = "2.5 h"
job = "Elm over the drive"
on = "2026-02-03"

[[rates.extra]]
tag = "optional"
what = "Stump ground out"
quantity = 1.5
unit = "stumps"
rate = "240.00"
taken = true

[day]
start = "07:30"
light_until = "17:45"
wind = "18 mph"
wind_limit = "25 mph"
crews = 2
people = 4

[[day.forecast]]
day = 2
from = "13:00"
to = "15:30"
gusts = "28 mph"

[company]
name = "Kestrel Tree Care"
address = "2 Yard Lane"
phone = "555 0142"
email = "office@kestrel.example"
licence = "contractor 1234"
insurance = "liability 5678 until 2026-12-31"

[customer]
name = "R. Ames"
address = "12 Hill Road"
phone = "555 0100"
email = "ames@mail.example"
insurer = "Millbrook Mutual"
claim = "C-77"

[call]
at = "02:10"
taken_by = "J. Mori"
phone = "555 0100"
happened = "about 01:40, gale from the west"
hurt = "nobody"
inside = "two people, now next door"
hit = "ridge and gutter"
wires = "service line hangs low"
gas = "no smell"
water = "rain through the ceiling"
access = "drive is clear"
told_at = "02:15"
told_by = "text message"

[terms]
scope = ["take the tree off the garage", "cover the opening"]
excluded = ["roof repair"]
invoice = "2026-031"
payment = "within 14 days"
valid = "30 days"
wood = "chips stay, logs go"
owns = true
neighbour = "the neighbour agreed to the drive being used"
buried = "nothing"
permits = "none needed"
authorised_by = "R. Ames"
authorised_on = "2026-03-28"
authorised_at = "06:50"

[lifting]
operator = "P. Novak"
signals_by = "M. Ito"
signals = "hand, radio behind the house"
footing = "drive, four mats"

[[change]]
id = "1"
what = "wire rope grown into the stem"
why = "under the bark"
photo = "14"
hours = "1.5 h"
price = "277.50"
tag = "make safe"
effect = "ends an hour and a half later"

[[log]]
at = "07:35"
on = "2026-03-28"
what = "arrived"
by = "M. Ito"

[[worked]]
step = "cut"
hours = "3 h"
on = "2026-03-28"

[[billed]]
tag = "protection"
what = "tarp, fixed with battens"
quantity = "1"
unit = "each"
rate = "140.00"

[hand_over]
done = ["tree off the garage"]
not_done = ["stump: needs the locator first"]
left = ["chips on the bed"]
danger = ["ceiling of the back room hangs"]
before = "crack in the drive"
ours = "one fence board"
cover = "tarp on battens, 10 by 12 ft"
at = "16:20"
to = "R. Ames"
notes = "keys in the box"
"""


@pytest.fixture
def full() -> str:
    """The text of that job."""
    return FULL
