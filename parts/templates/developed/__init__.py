"""Developed shapes: sheet that is rolled or pressed to tubes, cones and transitions, laid flat."""
