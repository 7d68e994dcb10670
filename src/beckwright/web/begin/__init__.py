"""Before there is a job: the first visit, and the example to look round."""
