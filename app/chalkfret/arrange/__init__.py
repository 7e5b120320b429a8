"""Parts held against one another: what one guitar does otherwise than another."""
