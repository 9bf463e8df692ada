"""The order of work in sentences, and what the edges of pieces meet.

Every part of a garment tells its own jobs here, from figures that it has already reckoned; the
recipe adds them up, and they are put in order once, by stage.
"""
