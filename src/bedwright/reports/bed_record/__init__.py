"""What was put on each bed, sown and picked, by day: for an inspector or a buyer."""
