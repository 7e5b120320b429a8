"""What strings weigh and pull, and what a tuning asks of them.

Pure functions of small values; figures are estimates for new strings, with their uncertainty.
"""
