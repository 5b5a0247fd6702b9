"""What developed shapes share."""
