"""Water on the road for the driver: tables, charts, and what a load is."""
