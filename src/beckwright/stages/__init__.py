"""Steps of the work, one way: ground, course, water, falls, stones, levels, reservoir, supply, then what is dug, laid,
planted and wired, set out, planned and paid; and the findings.

Each takes the job and the results of earlier steps and returns a frozen value. None keeps or changes anything.
"""
