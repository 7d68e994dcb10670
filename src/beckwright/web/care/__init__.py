"""What is normal for this job, and what to do when it is not."""
