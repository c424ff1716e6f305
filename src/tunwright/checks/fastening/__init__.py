"""What is asked about bolts, clamps and welds."""
