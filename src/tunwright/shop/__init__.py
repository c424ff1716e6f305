"""What each trade works from.

- `torque`  the torque sheet: one line a bolt, connection by connection
"""
