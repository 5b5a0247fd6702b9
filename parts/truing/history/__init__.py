"""What was measured of each table over time, append only; as CSV and back."""
