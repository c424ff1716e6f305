"""Sheets to cut, bend and bolt the pipes by."""
