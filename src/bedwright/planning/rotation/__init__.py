"""Which crop stands in which bed, and when: a plan over beds, turns and years."""
