"""The editions that are made of a finished folder: its zip, the whole handbook as one file, and what goes with them."""
