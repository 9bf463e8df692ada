"""What is cut as part of a circle: skirts round the waist, capes round the neck."""
