"""A tube or pigment as optics with its uncertainty: load, composition, mixing, appearance."""
