"""What a season takes beyond what is on hand: seed, plants, materials, parts; by day and cost."""
