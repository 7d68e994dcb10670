"""Steps of the work, one way: ground, course, water, falls, stones, levels, reservoir, supply, quantities, findings.

Each takes the job and the results of earlier steps and returns a frozen value. None keeps or changes anything.
"""
