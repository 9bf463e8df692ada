"""Which cloth gives what, and how strips are pieced."""
