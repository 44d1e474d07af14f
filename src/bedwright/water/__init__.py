"""Water: what the air asks for, what the crop takes, what the soil holds, minutes of drip, salt."""
