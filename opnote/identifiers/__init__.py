"""Strings -> identifiers of devices and donated tissue."""
