"""Settings for all tests."""

from hypothesis import settings

# A busy machine must not fail a property: examples have no time limit of their own.
settings.register_profile("steady", deadline=None)
settings.load_profile("steady")
