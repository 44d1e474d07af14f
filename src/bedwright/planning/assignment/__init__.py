"""Which crop in which bed for the years ahead: the garden document's side of the rotation."""
