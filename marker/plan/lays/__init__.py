"""The drawings of lays."""
