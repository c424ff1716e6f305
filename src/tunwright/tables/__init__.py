"""Data with sources: materials, gauges, shop values and rule sets as TOML, and the readers that hand them out."""
