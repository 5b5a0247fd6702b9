"""Loose pieces -> closed chains: ends joined, doubles taken out, and what was healed."""
