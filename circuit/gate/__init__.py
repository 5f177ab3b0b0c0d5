"""What stands between a design and its approval: policy from outside, what is not asked any more, what was known before."""
