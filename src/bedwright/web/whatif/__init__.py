"""What if: a change tried over the whole plan, beside the plan that stands."""
