"""Fair comparisons in one's own beds: their design, their power, what can be said of them."""
