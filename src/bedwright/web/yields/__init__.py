"""The expected harvest on the pages: by week, against what the stall wants."""
