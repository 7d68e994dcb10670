"""How fast it is, beside plain peers measured in the same run: ``python3 dev.py bench``."""
