"""Puts this folder on the import path, so that tests of every part share their small houses."""
