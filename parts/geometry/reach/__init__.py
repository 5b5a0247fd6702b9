"""How far loops reach every way: support, width and length at any angle, fitting into a rectangle."""
