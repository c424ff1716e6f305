"""What is asked about the pipework."""
