"""How a bed is laid: rows, plants and seed, trellis, two crops together, and why so."""
