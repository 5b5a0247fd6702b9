"""What the templates of this family share."""
