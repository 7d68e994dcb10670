"""The only reader of job folders: ``beckwright.job.read.read_job`` gives a Job in SI, or every problem at once."""
