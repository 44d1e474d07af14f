"""The season's work on the pages: a week's tasks, the weeks of the season, what is done."""
