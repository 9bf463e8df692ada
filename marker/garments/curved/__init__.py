"""What all garments of curved panels share: outline to piece, hem, facing, and the draft."""
