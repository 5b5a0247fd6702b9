"""What a whole bumper set is made of."""
