"""The garden month by month: twelve small drawings, and a table of the same."""
