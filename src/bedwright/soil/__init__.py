"""What a soil test says of a bed: classes, nitrogen, lime, sulfur, sodium and salt."""
