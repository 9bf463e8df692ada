"""The drawing language: verbs, weights, letters, paper."""
