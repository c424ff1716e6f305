"""Water on the road: how much, how evenly, and at which speeds of the engine."""
