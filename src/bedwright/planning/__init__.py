"""From evidence to decisions: what each bed gets, and why."""
