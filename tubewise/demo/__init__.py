"""The demo workshop: invented makers, tubes, boxes and a supply list."""
