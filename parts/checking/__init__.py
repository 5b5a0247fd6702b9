"""Someone's own drawing as a part, and the rules over it in bounded time and memory."""
