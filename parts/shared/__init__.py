"""What several templates share: parameters that go together, and the outlines they make."""
