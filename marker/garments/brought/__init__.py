"""Pieces that the user brings: outlines of her own, made ready to be laid."""
