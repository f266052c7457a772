"""Plan texts the tests of this folder share. Every comment names its owner: "@" and the id of the item it belongs to."""

COMMENTED = """\
# @top of the file
#:schema splitline-plan.schema.json
format = 1   # @top

# @plan heading
[plan]
title = "Close-up"   # @plan
crew = [
    "Ines",   # @plan chief
    "Olu",
]
# @plan trailing

# ---- @nobody: joints ----

# @head the cover
# @head second line
[[joint]]
id = "head"   # @head
title = "Head cover"

# @head bolting
[joint.bolting]
thread = "M48x3"   # @head
# @head inside
kind = "stud"
clamp_length = '268 mm'

[joint.friction]
lubricant = "molybdenum disulfide paste"
# @head thread = 0.12, bearing = 0.12

# @head case one
[[joint.case]]
name = "design"
pressure = "60 bar"   # @head

# @head case two
[[joint.case]]
name = "leak test"
pressure = "65 bar"
# @head after the case

# @tail the other cover
[[joint]]
id = "tail"
title = "Tail cover"
layout = { shape = "circle", bolts = 12 }   # @tail
target.preload = "500 kN"   # @tail
target.source = "drawing"

# ---- @nobody: lifts ----

# @lift-a first lift
[[lift]]
id = "lift-a"
title = "A"
[[lift.part]]   # @lift-a
name = "cover"
mass = "6400 kg"
# @lift-a leg n
[[lift.leg]]
name = "n"
pick = ["0 mm", "1 mm", "2 mm"]
# @lift-a leg s
[[lift.leg]]
name = "s"
pick = [
    "0 mm",   # @lift-a x
    "-1 mm",  # @lift-a y
    "2 mm",
]

# @lift-b second lift
[[lift]]
id = "lift-b"
title = "B"

[[item]]   # @ring
id = "ring"
title = "O-ring"
used_in = "head"
# @one first step
[[step]]
id = "one"
text = "First"
# @two second step
[[step]]
id = "two"
text = "Second"
needs = ["one"]

# @nobody the end
"""
