"""Light on beds and rows: what stands in the sun's way, and how much of the day's light is left."""
