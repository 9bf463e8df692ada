"""Lays drawn small, several at one scale, and the pages they are set on."""
