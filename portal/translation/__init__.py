"""The languages of family pages: which there are, and what has to be said in them."""
