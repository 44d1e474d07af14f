"""What to buy on the pages, by the day for which it is ordered."""
