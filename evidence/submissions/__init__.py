"""Submissions: their pieces and answers, who may send and see, and days that could not be done."""
