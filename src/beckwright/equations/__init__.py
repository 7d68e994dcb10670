"""Published formulae: floats (or arrays, by ``.over``) in, floats out, arithmetic only. Imports the base only.

One function for each formula, with its source at the function. The tests hold every one against a publication.
"""
