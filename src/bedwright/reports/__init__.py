"""Plans shown: words for the engine's codes, and text for a terminal."""
