"""The pages of water: the day's minutes, the week, a bed's balance, salt, readings, lines."""
