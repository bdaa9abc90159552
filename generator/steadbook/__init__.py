"""Steadbook: the systems manual of an off-grid homestead."""
