"""Case studies: draw them, mark them, run a cohort."""
