"""What is drawn for its looks or to be read: lettering, tapered slots, leaves."""
