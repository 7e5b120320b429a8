"""The Riffs page: section strip, grid and section panel."""
