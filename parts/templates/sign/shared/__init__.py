"""What signs share: the lettering, and what is done so that it can be cut."""
