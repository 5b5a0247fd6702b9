"""Drawing aids for figures: round-cornered windows, belts round pins, feet, rings."""
