"""A garden of one bed, as small as a season plan can be of."""

GARDEN = """format = 2
[garden]
name = "Small"
[[bed]]
id = "A"
length = "20 ft"
width = "4 ft"
texture = "silt loam"
[[want]]
crop = "lettuce"
beds = ["A"]
set_out = 2027-04-20
"""
