"""Station records and what they tell: frost, heat, degree days, soil temperature, weather years."""
