"""A bumper set: mounts, tabs, wings, gussets, skid."""
