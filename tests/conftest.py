"""Puts this folder on the import path, so that tests of every part share their small houses."""

from hypothesis import settings

# A machine that is busy with something else is no fault of the code.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
