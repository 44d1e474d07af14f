"""The page of the heat ahead: plantings, shade cloth, mulch, wind, and work by the hour."""
