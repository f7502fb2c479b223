"""What a sheet leans on: counts over all variants of all hands, and what a teacher would say about them."""
