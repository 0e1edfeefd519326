"""The quote put together: everything the earlier stages found, in the shape of the public contract."""
