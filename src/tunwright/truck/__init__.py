"""The physical thing: where a build becomes masses, water, axles and states. Checks and sheets ask it."""
