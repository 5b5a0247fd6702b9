"""What templates of several families share."""
