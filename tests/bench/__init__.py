"""Speed and memory as ratios measured side by side; `python3 tests bench`."""
