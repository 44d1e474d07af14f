"""The summer ahead: heat on the plantings, shade cloth, mulch, wind, and people at work."""
