"""Cornerwise: live serving calls for a volleyball bench."""
