"""The work of the season: every act as a task, and the tasks within the hours there are."""
