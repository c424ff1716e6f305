"""The pipework of a build as a network that flows: water in the tank, links for a duty, what a duty does over time."""
