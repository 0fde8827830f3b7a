"""What is due: jobs, their days and their order."""
