"""Settings of the test tools."""

from hypothesis import settings

# A busy machine is slow; benchmarks measure, tests do not time.
settings.register_profile("screedbook", deadline=None)
settings.load_profile("screedbook")
