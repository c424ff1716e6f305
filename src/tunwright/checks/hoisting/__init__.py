"""What is asked about lifting the vehicle or its tank."""
