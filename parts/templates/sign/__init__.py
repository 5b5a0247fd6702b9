"""Signs: words cut through a plate, and raised letters that hang together."""
