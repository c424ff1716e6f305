"""The tank while it fills and empties."""
