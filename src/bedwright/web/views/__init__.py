"""The pages, by the moments of the job."""
