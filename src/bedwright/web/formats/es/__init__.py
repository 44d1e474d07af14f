"""Spanish as it is written in North America."""
