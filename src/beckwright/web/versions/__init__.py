"""Every text the job has had, side by side and against each other."""
