"""Gauges to cut and measure with."""
