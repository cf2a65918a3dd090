"""The rest of the job, before, during and after standing, as sheets with figures that can be traced."""
