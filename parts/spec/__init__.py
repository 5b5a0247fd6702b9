"""How a template declares itself: parameters, where they apply, places to measure, advice on what is refused."""
