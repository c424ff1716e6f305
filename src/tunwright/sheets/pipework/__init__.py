"""The sheets of the pipework: its schematic, its lists for the shop, and what the driver and the tester read."""
