"""What the season is expected to give, week by week, against what the stall wants."""
