"""What is asked about the frame, its reinforcement and its mounts."""
