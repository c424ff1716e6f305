"""One module per question the build must answer."""
