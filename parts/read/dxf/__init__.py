"""DXF -> pieces: records, shapes, blocks, splines."""
